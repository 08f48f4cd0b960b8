"""What an edit of the knowledge changes in what is asked, how long it takes and what is concluded: two editions side by side.

In: two knowledges, transcripts, a number of simulated customers. Out: rows of a table that fits a review, and for each
transcript that goes another way, where it turns off.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from assistant.conversation.events import Asked, DeskCalled, FixOffered, HazardRaised
from assistant.workbench.replay import Script, parse, played
from assistant.workbench.simulate import AFTER, Curve, Simulation, Tell, simulate
from kb.knowledge import Knowledge


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One figure in both editions."""

    what: str
    old: str
    new: str
    change: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Way:
    """How a transcript went in one edition."""

    asked: tuple[str, ...]
    ended: str
    """What was concluded first: a fix, a hazard, a hand-over with its reason, or nothing."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Turned:
    """A transcript that goes another way in the new edition."""

    path: Path
    old: Way
    new: Way

    def __str__(self) -> str:
        pairs = zip(self.old.asked, self.new.asked, strict=False)
        same = next(
            (n for n, (a, b) in enumerate(pairs) if a != b), min(len(self.old.asked), len(self.new.asked))
        )
        lines = [f"{self.path}"]
        if self.old.asked != self.new.asked:
            old, new = (
                way.asked[same] if same < len(way.asked) else "nothing" for way in (self.old, self.new)
            )
            lines.append(
                f"  after {same} questions asks {new} in place of {old} ({_count(self.old)} before, {_count(self.new)} now)"
            )
        if self.old.ended != self.new.ended:
            lines.append(f"  concludes {self.new.ended} in place of {self.old.ended}")
        return "\n".join(lines)


def way_of(knowledge: Knowledge, script: Script) -> Way:
    """What is asked, and what is concluded first, when the transcript's customer says the same again."""
    events = played(knowledge, script).events
    return Way(
        asked=tuple(str(event.check) for event in events if isinstance(event, Asked)), ended=_ended(events)
    )


def _ended(events: Iterable[object]) -> str:
    for event in events:
        match event:
            case FixOffered():
                return str(event.fix)
            case HazardRaised(level="danger"):
                return f"danger: {event.hazard}"
            case DeskCalled():
                return f"handed over: {event.why}"
            case _:
                continue
    return "nothing"


def turned(old: Knowledge, new: Knowledge, paths: Sequence[Path]) -> tuple[Turned, ...]:
    """The transcripts that go another way, in order. Fails with `RequestError` on one that cannot be read."""
    found = []
    for path in paths:
        script = parse(path)
        before, now = way_of(old, script), way_of(new, script)
        if before != now:
            found.append(Turned(path=path, old=before, new=now))
    return tuple(found)


def size_rows(old: Knowledge, new: Knowledge) -> Iterator[Row]:
    """How much there is of each kind."""
    yield Row(what="edition", old=old.edition, new=new.edition)
    for kind in ("causes", "findings", "checks", "fixes", "symptoms", "hazards"):
        before, now = getattr(old, kind), getattr(new, kind)
        came, went = sorted(set(now) - set(before)), sorted(set(before) - set(now))
        change = ", ".join((*(f"+{id_}" for id_ in came), *(f"-{id_}" for id_ in went)))
        yield Row(what=kind, old=str(len(before)), new=str(len(now)), change=change)


def simulated_rows(
    old: Knowledge, new: Knowledge, *, customers: int, seed: int, tell: Tell | None = None
) -> Iterator[Row]:
    """The assistant's figures; each edition's customers are drawn from itself, so a cause that only one has is met there only."""
    before, now = (simulate(one, customers=customers, seed=seed, tell=tell) for one in (old, new))
    for questions in AFTER:
        yield _share(
            f"right after {questions}", *(_curve(one).right_after[questions] for one in (before, now))
        )
    yield _share("right at the end", *(_curve(one).right_at_the_end for one in (before, now)))
    yield _number("questions a customer", *(_curve(one).mean_questions for one in (before, now)), digits=1)
    yield _number("calibration error", *(one.honesty.calibration_error for one in (before, now)), digits=3)
    yield _number("Brier score", *(one.honesty.brier for one in (before, now)), digits=3)
    missing = (sum(not c.told_apart for c in one.confusions if c.taken_for) for one in (before, now))
    yield _number("confusions without a check", *(float(count) for count in missing), digits=0)


def _curve(one: Simulation) -> Curve:
    return one.curves["assistant"]


def _share(what: str, old: float, new: float) -> Row:
    return Row(
        what=what,
        old=f"{old:.1%}",
        new=f"{new:.1%}",
        change=f"{(new - old) * 100:+.1f}" if new != old else "",
    )


def _number(what: str, old: float, new: float, *, digits: int) -> Row:
    change = f"{new - old:+.{digits}f}" if new != old else ""
    return Row(what=what, old=f"{old:.{digits}f}", new=f"{new:.{digits}f}", change=change)


def as_table(rows: Sequence[Row]) -> Iterator[str]:
    """The rows as a Markdown table: it stands in a review as it is."""
    cells = [("", "old", "new", "change"), *((row.what, row.old, row.new, row.change) for row in rows)]
    wide = [max(len(row[column]) for row in cells) for column in range(3)]
    for place, row in enumerate(cells):
        first, *rest = row
        yield f"| {first:<{wide[0]}} | {rest[0]:>{wide[1]}} | {rest[1]:>{wide[2]}} | {rest[2]} |"
        if place == 0:
            yield f"| {'-' * wide[0]} | {'-' * (wide[1] - 1)}: | {'-' * (wide[2] - 1)}: | --- |"


def _count(way: Way) -> str:
    return f"{len(way.asked)} questions"
