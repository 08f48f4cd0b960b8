"""`helpline why`: what is believed of a case and why, for a colleague: evidence in bits, what comes next, a picture."""

import json
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any, Final

import click

from assistant.helpline import conversing_with, reasons_in
from assistant.workbench.replay import parse, played
from channels.house import open_house
from channels.knowledge import our_knowledge
from kb.ids import Language

Reasons = Mapping[str, Any]  # Any: JSON, in the shape that the API's document gives
NAME_WIDTH: Final = 44
COLUMN_WIDTH: Final = 9
NEXT_SHOWN: Final = 3


@click.command("why")
@click.argument("case")
@click.option(
    "--language", type=click.Choice(["en", "es"]), default="en", show_default=True, help="Of the picture."
)
@click.option(
    "--picture",
    type=click.Path(path_type=Path, dir_okay=False),
    help="Write how belief moved, as SVG with its alternative text.",
)
@click.option("--json", "as_json_", is_flag=True, help="The same as the API's reasoning.")
@click.option("--demo", "in_demo", is_flag=True, help="A case of the demo.")
def why(case: str, language: Language, picture: Path | None, *, as_json_: bool, in_demo: bool) -> None:
    """Show what speaks for and against each leading cause of CASE, a case's id or a transcript's file.

    Bits: +1 doubles a cause's odds against the average, -1 halves them. A column adds up, from the prior through the
    evidence and the conflict that all columns share, to the belief in that cause alone; the shares above the table hold
    it beside a second cause too.
    """
    reasons = _of_transcript(Path(case), language) if Path(case).is_file() else _kept(case, in_demo=in_demo)
    if picture is not None:
        picture.write_text(str(reasons["picture"]), encoding="utf-8")
        click.echo(f"{picture}: written", err=True)
    if as_json_:
        click.echo(json.dumps(reasons, ensure_ascii=False, indent=1, default=str))
    elif picture is None:
        click.echo("\n".join(told(reasons)))


def _of_transcript(path: Path, language: Language) -> Reasons:
    knowledge = our_knowledge()
    player = played(knowledge, parse(path))
    log = tuple(enumerate(player.events, start=1))
    return reasons_in(conversing_with(knowledge), log, player.at, language)


def _kept(case: str, *, in_demo: bool) -> Reasons:
    return open_house(demo=in_demo).helpline.reasoning(case)


def told(reasons: Reasons) -> Iterator[str]:
    """The table, line by line: causes as numbered columns, then each thing learnt, then what comes next."""
    evidence = reasons["evidence"]
    if evidence is None:
        yield "nothing is believed yet"
        return
    for number, (cause, share) in enumerate(
        zip(evidence["causes"], evidence["belief"], strict=True), start=1
    ):
        yield f"  {number}  {cause:<{NAME_WIDTH}}{share:6.1%}"
    yield f"     {'something else':<{NAME_WIDTH}}{reasons['something_else']:6.1%}"
    yield ""
    numbers = "".join(f"{number:>{COLUMN_WIDTH}}" for number in range(1, len(evidence["causes"]) + 1))
    yield f"  {'bits for (+) and against (-)':<{NAME_WIDTH}}{numbers}"
    yield _row("before anything was said", evidence["prior_bits"])
    for row in evidence["rows"]:
        after = f" (after {row['epoch']} fixes)" if row["epoch"] else ""
        yield _row(f"{row['about'].partition(':')[2]}: {row['state']}{after}", row["bits"])
    yield _row("conflict, common to all", [evidence["conflict_bits"]] * len(evidence["causes"]))
    yield from _doubts(reasons)
    yield from _next(reasons)


def _row(name: str, bits: Any) -> str:  # Any: a JSON array of numbers
    return f"  {name[:NAME_WIDTH]:<{NAME_WIDTH}}" + "".join(f"{value:>+{COLUMN_WIDTH}.2f}" for value in bits)


def _doubts(reasons: Reasons) -> Iterator[str]:
    for doubt in (reasons["conflict"] or {}).get("doubts", ()):
        yield (
            f"  {doubt['check']}: the other answers speak against it by {doubt['against_bits']:.1f} bit; "
            f"mistaken with {doubt['mistaken']:.0%}"
        )


def _next(reasons: Reasons) -> Iterator[str]:
    yield f"\n  {reasons['entropy_bits']:.2f} bit left to learn; the next questions would tell apart:"
    for one in reasons["next"][:NEXT_SHOWN]:
        apart = "; ".join(f"{split['state']} -> {split['cause']}" for split in one["apart"])
        yield f"  {one['check']} ({one['gain_bits']:.2f} bit, {one['effort']:.0f} min): {apart}"
