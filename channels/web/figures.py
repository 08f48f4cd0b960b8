"""Operations: is it alive, is it ready, and how much does it do."""

import threading
from collections import Counter
from collections.abc import Callable, Iterable
from typing import Final

from flask import Blueprint, Flask, Response, jsonify, request

from assistant.helpline import Figure
from channels.web.border import need_token

LOOPBACK: Final = ("127.0.0.1", "::1")


class Figures:
    """Counts since the process began; the text form is that of OpenMetrics."""

    def __init__(self) -> None:
        self._lock = threading.Lock()
        self._responses: Counter[tuple[str, int]] = Counter()

    def count(self, response: Response) -> Response:
        """One more response, by the rule that it matched and its status."""
        rule = request.url_rule.rule if request.url_rule else "(none)"
        with self._lock:
            self._responses[rule, response.status_code] += 1
        return response

    def as_text(self) -> str:
        """All counts, in a fixed order."""
        with self._lock:
            counted = sorted(self._responses.items())
        lines = [
            "# TYPE helpline_responses counter",
            "# HELP helpline_responses Responses by route and status.",
        ]
        lines += [
            f'helpline_responses_total{{route="{rule}",status="{status}"}} {n}'
            for (rule, status), n in counted
        ]
        return "\n".join(lines)


def as_lines(figure: Figure) -> list[str]:
    """A figure of the casebook in the text form."""
    name = f"{figure.name}_total" if figure.kind == "counter" else figure.name
    lines = [f"# TYPE {figure.name} {figure.kind}", f"# HELP {figure.name} {figure.means}"]
    for labels, value in figure.samples:
        told = ",".join(f'{label}="{_escaped(said)}"' for label, said in labels)
        lines.append(f"{name}{{{told}}} {value:g}" if told else f"{name} {value:g}")
    return lines


def _escaped(label: str) -> str:
    return label.replace("\\", r"\\").replace('"', r"\"").replace("\n", r"\n")


def add_figures(
    app: Flask,
    ready: Callable[[], None],
    metrics_token: str | None,
    counted: Callable[[], Iterable[Figure]],
) -> None:
    """The routes of operations; `ready` raises where the helpline could not serve, `counted` are the casebook's figures."""
    figures = Figures()
    app.after_request(figures.count)
    operations = Blueprint("operations", __name__)

    @operations.get("/health/live")
    def live() -> Response:
        return jsonify({"status": "alive"})

    @operations.get("/health/ready")
    def is_ready() -> tuple[Response, int]:
        try:
            ready()
        except Exception:
            app.logger.exception("not ready")
            return jsonify({"status": "not ready; the reason stands in the log"}), 503
        return jsonify({"status": "ready"}), 200

    @operations.get("/metrics")
    def metrics() -> Response:
        # a proxy on this machine speaks for others: what it passes on did not come from here
        near = request.remote_addr in LOOPBACK and "X-Forwarded-For" not in request.headers
        if not near:
            need_token(
                metrics_token, "Ask from the machine itself, or with the token of HELPLINE_METRICS_TOKEN."
            )
        media_type = "application/openmetrics-text; version=1.0.0; charset=utf-8"
        kept = (line for figure in counted() for line in as_lines(figure))
        return Response("\n".join((figures.as_text(), *kept, "# EOF", "")), content_type=media_type)

    app.register_blueprint(operations)
