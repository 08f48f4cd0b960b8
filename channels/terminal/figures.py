"""`helpline read --score`: the figures of labelled sets, beside plain baselines, with the worst mistakes."""

import json
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Final

import click

from assistant.drawing import draw_reliability
from assistant.reading import open_question
from assistant.reading.explain import explain
from assistant.reading.labelled import set_files, texts_of
from assistant.reading.score import PARTS, Part, Scored, TextScore, score
from assistant.workbench import baselines, figures, honesty
from kb.errors import RequestError
from kb.knowledge import Knowledge

HEAD: Final = f"  {'':<17}{'precision':<19}{'recall':<19}{'F1':<19}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Wanted:
    """What to print besides the figures themselves."""

    beside: bool
    worst: int
    reliability: Path | None
    as_json: bool


def told_figures(knowledge: Knowledge, paths: Sequence[Path], wanted: Wanted) -> str:
    """The figures of all sets among `paths`, folders opened."""
    files = set_files(paths)
    if not files:
        raise RequestError("no set of labelled texts there", "name a folder that holds .jsonl files")
    scored = {str(file): _scored(knowledge, file) for file in files}
    if wanted.as_json:
        return json.dumps({name: _plain(one) for name, one in scored.items()}, ensure_ascii=False, indent=1)
    texts = tuple(text for one in scored.values() for text in one.texts)
    lines = [f"{name}: {len(one.texts)} texts" for name, one in scored.items()]
    lines += _tables(knowledge, texts, beside=wanted.beside)
    lines += ["", "How sure we were, and how often it was so:", honesty.table(texts)]
    if wanted.reliability is not None:
        _draw(texts, wanted.reliability)
        lines.append(f"drawn: {wanted.reliability}")
    if wanted.worst:
        lines += ["", "The worst mistakes:", *_worst(knowledge, texts, wanted.worst)]
    return "\n".join(lines)


def _scored(knowledge: Knowledge, file: Path) -> Scored:
    try:
        return score(knowledge, texts_of([file]))
    except OSError as error:
        raise RequestError(
            f"{file}: {error.strerror}", "name a file of labelled texts, one JSON object a line"
        ) from error
    except (ValueError, KeyError, AttributeError, TypeError) as error:
        mend = 'each line needs "text", "language" and "labels", as in tests/people'
        raise RequestError(f"{file}: not a file of labelled texts: {error}", mend) from error


def _plain(scored: Scored) -> dict[str, object]:
    kinds = {kind: part.as_dict() for kind, part in scored.by_kind.items()}
    shown: dict[str, object] = {"all": scored.whole.as_dict(), "kinds": kinds}
    return shown | {tag: part.as_dict() for tag, part in scored.by_language.items() if part.texts}


def _tables(knowledge: Knowledge, texts: Sequence[TextScore], *, beside: bool) -> Iterator[str]:
    plain = {}
    if beside:
        labelled = [text.labelled for text in texts]
        plain = {
            "similar phrase": baselines.scored_by(baselines.similarity, knowledge, labelled),
            "n-gram neighbour": baselines.scored_by(baselines.neighbour, knowledge, labelled),
        }
    for tag in ("all", "en", "es"):
        at = [place for place, text in enumerate(texts) if tag in {"all", text.labelled.language}]
        if at:
            yield ""
            yield from _table(tag, [texts[place] for place in at])
            for name, guessed in plain.items():
                yield from _beside(name, [guessed[place] for place in at])
    yield from _by_kind(texts)


def _table(tag: str, texts: Sequence[TextScore]) -> Iterator[str]:
    yield f"{tag}: {len(texts)} texts"
    yield HEAD
    for part in PARTS:
        yield f"  {part:<17}{_row(texts, part)}{_counts(texts, part)}"
    for outcome in figures.OUTCOMES:
        figure = figures.replies(texts, outcome)
        if figure is not None:
            yield f"  {outcome.replace('_', ' '):<17}{figure}  ({sum(t.reply == outcome for t in texts)} replies)"


def _row(texts: Sequence[TextScore], part: Part) -> str:
    found = (figures.precision(texts, part), figures.recall(texts, part), figures.f1(texts, part))
    return "".join(f"{figure or '-'!s:<19}" for figure in found)


def _counts(texts: Sequence[TextScore], part: Part) -> str:
    sides = [text.parts[part] for text in texts]
    hits = sum(len(m & f) for m, f in sides)
    missed, made_up = sum(len(m - f) for m, f in sides), sum(len(f - m) for m, f in sides)
    return f"{hits} read, {missed} missed, {made_up} made up"


def _beside(name: str, texts: Sequence[TextScore]) -> Iterator[str]:
    told = [f"{part} {figures.f1(texts, part) or '-'}" for part in baselines.PARTS_GUESSED]
    yield f"  {name}: F1 {', '.join(told)}"
    right, wrong = figures.replies(texts, "right"), figures.replies(texts, "silently_wrong")
    if right is not None:
        yield f"  {name}: replies right {right}, silently wrong {wrong}"


def _by_kind(texts: Sequence[TextScore]) -> Iterator[str]:
    yield ""
    yield "By kind: texts, F1 of findings, quantities and complaints; hazards found; replies right, silently wrong"
    for kind in sorted({kind for text in texts for kind in text.labelled.kinds}):
        some = [text for text in texts if kind in text.labelled.kinds]
        parts: tuple[Part, ...] = ("findings", "quantities", "complaints")
        told = [figures.f1(some, part) for part in parts]
        told += [figures.recall(some, "hazards"), figures.replies(some, "right")]
        told += [figures.replies(some, "silently_wrong")]
        yield f"  {kind:<20}{len(some):>4}  " + "  ".join(_short(figure) for figure in told)


def _short(figure: figures.Figure | None) -> str:
    return "  - " if figure is None else f"{figure.value:.2f}"


def _draw(texts: Sequence[TextScore], file: Path) -> None:
    found = [claim for said in honesty.SAID for claim in honesty.claims(texts, said)]
    picture = draw_reliability(honesty.bins_of(found), "How honest confidence is")
    try:
        file.write_text(picture, encoding="utf-8")
    except OSError as error:
        raise RequestError(f"{file}: {error.strerror}", "name a file that can be written") from error


def _worst(knowledge: Knowledge, texts: Sequence[TextScore], most: int) -> Iterator[str]:
    for text in figures.worst(texts, most):
        labelled = text.labelled
        yield ""
        for mistake in text.mistakes():
            yield f"{mistake.kind}: meant {mistake.meant}, found {mistake.found}"
        known = labelled.about is not None and labelled.about in knowledge.checks
        question = (
            open_question(knowledge, labelled.about, labelled.language) if known and labelled.about else None
        )
        if text.reading is not None:
            yield explain(knowledge, labelled.text, text.reading, question)


WORST = click.option(
    "--worst",
    type=click.IntRange(min=0),
    default=0,
    metavar="N",
    help="With --score: the N costliest mistakes, each with its why.",
)
BESIDE = click.option(
    "--beside",
    is_flag=True,
    help="With --score: two plain ways of reading over the same phrases, for comparison.",
)
RELIABILITY = click.option(
    "--reliability",
    type=click.Path(path_type=Path, dir_okay=False),
    metavar="FILE",
    help="With --score: draw how honest confidence is (SVG).",
)
