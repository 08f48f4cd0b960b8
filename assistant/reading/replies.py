"""A reply against the question that was open: its options first, whatever else it says second."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

from assistant.reading.asking_back import only_asks
from assistant.reading.choices import choice_in
from assistant.reading.clauses import Chunk, chunks_of
from assistant.reading.disclaimers import disclaimer_in, settles
from assistant.reading.normalise import Token
from assistant.reading.ranges import option_for_duration, option_for_number
from assistant.reading.said import Answer, FindingSaid, Move, OpenQuestion, Option, QuantitySaid
from assistant.reading.worded import Vote, described, within_wording
from assistant.reading.yes_or_no import meaning_of, spoken

_CHOSEN: Final = 0.97
_CHOSEN_WITH_MORE: Final = 0.9
_YES_NO: Final = 0.95
_YES_NO_WITH_MORE: Final = 0.9
_CONFLICT: Final = 0.55
_DESCRIBED_BEATS: Final = 0.8
_SAID_UNSURE: Final = 0.62
_SPAN: Final = 0.92
_WHOLE: Final = 0.94
"""Nothing is said but one wording of one option: "same hum as ever" is the usual sound, whatever a hum is elsewhere."""
_NUMBER_OFFERED: Final = 0.86
_WAVERS: Final = 0.5
_MOVE: Final = 0.9
_SHORT: Final = 3
_GRADE: Final = 0.75
_BESIDE: Final = 0.9
"""How surely an option is described beside "I can't" for it to be the answer."""
_WEAK: Final = 0.7
"""A description that is only like an option yields to somebody who says that he does not answer."""
_WITHHOLDING: Final[frozenset[Move]] = frozenset(
    {"unsure", "cannot", "how", "why", "person", "give_up", "pause", "skip", "repeat", "start_over", "back"}
)


@dataclass(frozen=True, slots=True)
class Reply:
    """What the reading found before it looked at the question."""

    tokens: tuple[Token, ...]
    chunks: tuple[Chunk, ...]
    findings: tuple[FindingSaid, ...]
    quantities: tuple[QuantitySaid, ...]
    durations: tuple[float, ...]
    """Every span of time said, in seconds."""
    moves: tuple[Move, ...]
    corrected_from: int | None


def answer_to(question: OpenQuestion, reply: Reply) -> Answer:
    """How a reply answers `question`: kind `none` where it does not."""
    number = _number(question, reply)
    if number is not None:
        return number
    if only_asks(reply.tokens, reply.chunks):
        return Answer(kind="none")
    found = _best(question, reply)
    given_up = _disclaimed(question, reply, found)
    if given_up is not None:
        return given_up
    doubtful = "unsure" in reply.moves
    withheld = bool(_WITHHOLDING & set(reply.moves)) and found is not None and found.confidence < _WEAK
    if found is not None and found.confidence >= _CONFLICT and not withheld:
        return replace(found, confidence=min(found.confidence, _SAID_UNSURE)) if doubtful else found
    if "cannot" in reply.moves and not (
        doubtful and reply.moves.index("unsure") < reply.moves.index("cannot")
    ):
        return Answer(kind="cannot", confidence=_MOVE)
    if doubtful:
        return Answer(kind="unsure", confidence=_MOVE)
    return found if found is not None and not withheld else Answer(kind="none")


def _disclaimed(question: OpenQuestion, reply: Reply, found: Answer | None) -> Answer | None:
    """That they cannot look, or do not know, where nothing else in the reply takes it back."""
    said = disclaimer_in(reply.tokens, reply.chunks)
    if said is None or not settles(reply.tokens, said):
        return None
    options = question.options or question.told_as
    if within_wording(options, reply.tokens, said.first, said.last):
        return None
    rest = (*reply.tokens[: said.first], *reply.tokens[said.last :])
    beside = described(options, rest, chunks_of(rest)) if options else None
    sure = (
        found is not None
        and beside is not None
        and beside.confidence >= _BESIDE
        and beside.value == found.state
    )
    if sure and said.kind == "cannot":
        return None
    return Answer(kind=said.kind, confidence=_MOVE)


def _number(question: OpenQuestion, reply: Reply) -> Answer | None:
    if question.number_of is None:
        return None
    fitting = [
        q for q in reply.quantities if q.quantity == question.number_of and q.when in {"now", "by_another"}
    ]
    if not fitting:
        return None
    best = max(fitting, key=lambda q: (q.confidence, q.at is None, q.span.start))
    return Answer(kind="number", value=best.value, unit=best.unit, confidence=best.confidence)


def _best(question: OpenQuestion, reply: Reply) -> Answer | None:
    if question.done and not question.options and "done" in reply.moves:
        return Answer(kind="state", state="done", likelihood={"done": 1.0}, confidence=_CHOSEN)
    if not question.options:
        return _told(question, reply)
    chosen = _chosen(question.options, reply)
    if chosen is not None and chosen.confidence != _CHOSEN_WITH_MORE:
        return chosen
    composed = _composed(question, reply)
    start = reply.corrected_from or 0
    vote = described(question.options, reply.tokens[start:], _shifted(reply.chunks, start))
    worded = None if vote is None else _voted(question.options, _between(question, vote))
    plain = _yes_no(question, reply)
    if worded is not None and worded.confidence >= _WHOLE:
        composed = None
    said = [answer for answer in (chosen, worded, composed) if answer is not None]
    if not said:
        return plain or _measured(question.options, reply)
    best = _agreed(question.options, said)
    if plain is not None and plain.state != best.state:
        return (
            replace(best, confidence=min(best.confidence, _DESCRIBED_BEATS))
            if best.confidence >= _CONFLICT
            else plain
        )
    if plain is not None:
        return best if best.confidence > plain.confidence else plain
    return best


def _told(question: OpenQuestion, reply: Reply) -> Answer | None:
    """Where a number is asked: what the whole reading made of it, or a state in words ("miles over")."""
    composed = _composed(question, reply)
    vote = described(question.told_as, reply.tokens, reply.chunks) if question.told_as else None
    if vote is None or vote.confidence < _DESCRIBED_BEATS:
        return composed
    worded = _voted(question.told_as, vote)
    return worded if composed is None else _agreed(question.told_as, [worded, composed])


def _agreed(options: Sequence[Option], said: Sequence[Answer]) -> Answer:
    """The surest vote; two that differ and are both sure leave it open."""
    best = max(said, key=lambda vote: vote.confidence)
    rivals = [vote for vote in said if vote.state != best.state and vote.confidence >= _CONFLICT]
    if not rivals:
        return best
    strongest = max(rivals, key=lambda vote: vote.confidence)
    if best.confidence - strongest.confidence > 0.25:  # noqa: PLR2004 - a clear difference
        return replace(best, confidence=best.confidence * _DESCRIBED_BEATS)
    return _state(options, best.state or "", _CONFLICT, other=strongest.state)


def _shifted(chunks: Sequence[Chunk], start: int) -> tuple[Chunk, ...]:
    """The chunks of the tokens from `start` on, counted from there."""
    if start == 0:
        return tuple(chunks)
    return tuple(
        Chunk(
            first=max(chunk.first - start, 0),
            last=chunk.last - start,
            asks=chunk.asks,
            contrasts=chunk.contrasts,
            segments=tuple((max(a - start, 0), b - start) for a, b in chunk.segments if b > start),
        )
        for chunk in chunks
        if chunk.last > start
    )


def _state(options: Sequence[Option], state: str, confidence: float, *, other: str | None = None) -> Answer:
    rest = [option.value for option in options if option.value != state]
    shares = {state: confidence} | {value: (1 - confidence) / max(len(rest), 1) for value in rest}
    if other is not None and other in rest:
        small = 0.02
        left = 1 - confidence - small * (len(rest) - 1)
        shares = dict.fromkeys(rest, small) | {state: confidence, other: left}
    return Answer(kind="state", state=state, likelihood=shares, confidence=confidence)


def _voted(options: Sequence[Option], vote: Vote) -> Answer:
    return _state(options, vote.value, vote.confidence, other=vote.rival)


def _between(question: OpenQuestion, vote: Vote) -> Vote:
    """As in "Some on the bottom, the top is bare": of a grade and an end of the scale, both said, the grade."""
    inner = [option.value for option in question.options[1:-1]]
    told = [value for value in (vote.value, vote.rival) if value in inner]
    if not question.graded or vote.rival is None or len(told) != 1:
        return vote
    other = vote.rival if told[0] == vote.value else vote.value
    return Vote(value=told[0], confidence=_GRADE, rival=other)


def _chosen(options: Sequence[Option], reply: Reply) -> Answer | None:
    tokens = reply.tokens[reply.corrected_from or 0 :]
    choice = choice_in(tokens, len(options))
    if choice is None:
        return None
    values = [options[pick - 1].value for pick in choice.picks]
    if len(values) > 1:
        return _state(options, values[0], _WAVERS, other=values[1])
    if choice.whole:
        return _state(options, values[0], _CHOSEN)
    follow = tokens[choice.place + 1] if choice.place + 1 < len(tokens) else None
    separate = follow is not None and (follow.kind == "mark" or _describes(options, values[0], reply))
    return _state(options, values[0], _CHOSEN_WITH_MORE) if separate else None


def _describes(options: Sequence[Option], value: str, reply: Reply) -> bool:
    """The words beside the number describe the option of that number."""
    vote = described(tuple(options), reply.tokens, reply.chunks)
    return vote is not None and vote.value == value


def _composed(question: OpenQuestion, reply: Reply) -> Answer | None:
    """What the whole reading made of the question's finding."""
    live = [
        said
        for said in reply.findings
        if said.finding == question.finding and said.when in {"now", "by_another"}
    ]
    if not live:
        return None
    best = max(live, key=lambda said: (said.confidence, said.span))
    offered = {option.value for option in question.options} or set(best.likelihood)
    shares = {str(state): share for state, share in best.likelihood.items() if state in offered}
    if not shares or best.state not in offered:
        return None
    total = sum(shares.values())
    return Answer(
        kind="state",
        state=str(best.state),
        likelihood={state: share / total for state, share in shares.items()},
        confidence=best.confidence,
    )


def _yes_no(question: OpenQuestion, reply: Reply) -> Answer | None:
    """A plain yes or no, where the options or the question say what it means."""
    word = spoken(reply.tokens, reply.moves)
    means = meaning_of(question)
    if word is None or word not in means:
        return None
    short = sum(token.kind == "word" for token in reply.tokens) <= _SHORT
    return _state(question.options, means[word], _YES_NO if short else _YES_NO_WITH_MORE)


def _measured(options: tuple[Option, ...], reply: Reply) -> Answer | None:
    """A span of time among options that are spans of time, or a number where one option is a number."""
    for seconds in reply.durations:
        value = option_for_duration(options, seconds)
        if value is not None:
            return _state(options, value, _SPAN)
    numbers = [token for token in reply.tokens if token.kind == "number"]
    words = [token for token in reply.tokens if token.kind == "word"]
    offered = option_for_number(options)
    if offered is not None and numbers and len(words) <= _SHORT:
        return _state(options, offered, _NUMBER_OFFERED)
    return None
