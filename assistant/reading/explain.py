"""The text of `helpline read --why`: under the person's own words, which words made what, and what was left unread."""

from collections.abc import Iterator
from typing import Final

from assistant.reading.lexicon import lexicon_of
from assistant.reading.normalise import Token, tokens_of
from assistant.reading.said import FindingSaid, OpenQuestion, QuantitySaid, Reading, Span
from assistant.reading.spelling import mend
from kb.knowledge import Knowledge

_WIDTH: Final = 14
_WHEN: Final = {
    "now": "",
    "before": ", said of the past",
    "would_be": ", only supposed",
    "asked": ", asked and not said",
    "by_another": ", told by somebody else",
}


def explain(knowledge: Knowledge, text: str, reading: Reading, about: OpenQuestion | None = None) -> str:
    """Some lines of plain text; every line quotes the words it is about."""
    lines = [text, *_repairs(knowledge, text), *_complaints(text, reading), *_findings(text, reading)]
    lines += [*_numbers(text, reading), *_hazards(text, reading)]
    if reading.moves:
        lines.append(_line("asks us", ", ".join(reading.moves)))
    if reading.corrects:
        lines.append(_line("corrects", "what stands after the correction counts"))
    if about is not None:
        lines.append(_line("answer", _answer(reading)))
    lines.append(_line("language", f"{reading.language} ({reading.language_confidence:.2f})"))
    lines.append(_line("outcome", _OUTCOMES[reading.outcome]))
    lines += [_line("unread", _quote(text, unread.span)) for unread in reading.unread]
    return "\n".join(lines)


_OUTCOMES: Final = {
    "take": "taken as read",
    "say_back": "taken and said back",
    "ask": "not sure enough: we would ask",
}


def _line(head: str, rest: str) -> str:
    return f"  {head:<{_WIDTH}}{rest}"


def _quote(text: str, span: Span) -> str:
    return f'"{text[span.start : span.end]}"'


def _repairs(knowledge: Knowledge, text: str) -> Iterator[str]:
    mended = mend(lexicon_of(knowledge).speller, tokens_of(text))
    by_start: dict[int, list[Token]] = {}
    for token in mended:
        if token.doubt:
            by_start.setdefault(token.start, []).append(token)
    for parts in by_start.values():
        span = Span(parts[0].start, parts[-1].end)
        yield _line("spelling", f"{_quote(text, span)} read as {' '.join(part.word for part in parts)}")


def _complaints(text: str, reading: Reading) -> Iterator[str]:
    for said in reading.complaints:
        yield _line("complaint", f"{_quote(text, said.span)} -> {said.symptom} ({said.confidence:.2f})")


def _findings(text: str, reading: Reading) -> Iterator[str]:
    for said in reading.findings:
        scope = _WHEN[said.when]
        others = _others(said)
        yield _line(
            "finding",
            f"{_quote(text, said.span)} -> {said.finding}: {said.state} ({said.confidence:.2f}{scope}){others}",
        )


def _others(said: FindingSaid) -> str:
    """The states that these words leave possible as well."""
    left = [
        f"{state} {share:.2f}"
        for state, share in said.likelihood.items()
        if state != said.state and share >= _SOME
    ]
    return f"; or {', '.join(left)}" if left else ""


_SOME: Final = 0.1


def _numbers(text: str, reading: Reading) -> Iterator[str]:
    for said in reading.quantities:
        yield _line("number", f"{_quote(text, said.span)} -> {_number(said)}")


def _number(said: QuantitySaid) -> str:
    unit = said.unit or "unit not said"
    at = f" at {said.at}" if said.at else ""
    return f"{said.quantity}: {said.value:g} {unit}{at} ({said.confidence:.2f}{_WHEN[said.when]})"


def _hazards(text: str, reading: Reading) -> Iterator[str]:
    for said in reading.hazards:
        yield _line("HAZARD", f"{_quote(text, said.span)} -> {said.hazard} ({said.confidence:.2f})")


def _answer(reading: Reading) -> str:
    answer = reading.answer
    match answer.kind:
        case "state":
            return f"{answer.state} ({answer.confidence:.2f})"
        case "number":
            return f"{answer.value:g} {answer.unit or 'unit not said'} ({answer.confidence:.2f})"
        case "unsure":
            return "they do not know"
        case "cannot":
            return "they cannot look now"
        case "none":
            return "the question is not answered"
