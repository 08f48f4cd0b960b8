"""`helpline kb simulate`: how soon the right remedy comes first, over customers drawn from the knowledge."""

import json
import sys
from collections.abc import Iterator
from dataclasses import asdict
from pathlib import Path
from typing import Final

import click

from assistant.drawing import draw_reliability
from assistant.drawing.curves import draw_curves
from assistant.workbench.figures import share
from assistant.workbench.people_playing import Played, figures_of, play_all
from assistant.workbench.people_sheets import read_sheets
from assistant.workbench.simulate import Simulation
from assistant.workbench.simulate import simulate as run
from assistant.workbench.simulate_unknown import TakenOut
from assistant.workbench.simulate_unknown import take_out as run_without
from channels.knowledge import our_knowledge
from kb.errors import RequestError

CONFUSIONS_SHOWN: Final = 12
FEWEST_CUSTOMERS: Final = 3


@click.command("simulate")
@click.option("--customers", type=click.IntRange(1, 100_000), default=200, show_default=True)
@click.option(
    "--seed",
    type=click.IntRange(0),
    default=1,
    show_default=True,
    help="The same seed draws the same customers.",
)
@click.option(
    "--take-out",
    is_flag=True,
    help="Take each fault out of the knowledge in turn, and play those who have it.",
)
@click.option(
    "--people",
    type=click.Path(exists=True, dir_okay=False, path_type=Path),
    help="Play the customers of this file through the whole conversation: their sentences are read.",
)
@click.option(
    "--picture",
    type=click.Path(dir_okay=False, path_type=Path),
    help="Draw the curves into this file (SVG), and how honest confidence was beside it.",
)
@click.option("--json", "as_json_", is_flag=True)
def simulate(
    customers: int, seed: int, *, take_out: bool, people: Path | None, picture: Path | None, as_json_: bool
) -> None:
    """Draw made-up customers of every cause, and see after how many questions the right remedy comes first."""
    tell = _tell if sys.stderr.isatty() else None
    if take_out:
        unknown = run_without(our_knowledge(), seed=seed, tell=tell)
        click.echo(json.dumps(asdict(unknown), indent=1) if as_json_ else _told(unknown))
        return
    if people is not None:
        click.echo(_people(people, as_json_=as_json_))
        return
    simulation = run(our_knowledge(), customers=customers, seed=seed, tell=tell)
    if picture is not None:
        _draw(simulation, picture)
    shown = json.dumps(simulation.to_json(), indent=1) if as_json_ else "\n".join(_lines(simulation))
    click.echo(shown)


def _people(path: Path, *, as_json_: bool) -> str:
    played = play_all(our_knowledge(), read_sheets(path))
    figures = figures_of(played)
    if as_json_:
        return json.dumps(asdict(figures), indent=1)
    within = ", ".join(f"{right} within {n} questions" for n, right in figures.right_within)
    lines = [_one(one) for one in played]
    lines.append(
        f"{figures.right} of {figures.customers} came to a right remedy first ({within}); "
        f"{figures.handed_over} were handed over before any; {figures.mean_questions:.1f} questions each; "
        f"{figures.misread} facts misread, {figures.false_alarms} false alarms"
    )
    return "\n".join(lines)


def _one(one: Played) -> str:
    came = one.fix or one.handed_over or "nothing"
    wrong = "".join(f", heard {finding} {state}" for finding, state in one.misread)
    truth = " and ".join(one.sheet.truth) or "nothing wrong"
    return f"{'right' if one.right else 'WRONG':<6}{one.sheet.id:<5}{one.questions:>3} questions  {truth} -> {came}{wrong}"


def _told(unknown: TakenOut) -> str:
    return (
        f"{unknown.customers} customers whose cause was taken out: something else leads for "
        f"{unknown.something_else_leads:.1%}, the same remedy for {unknown.same_remedy_leads:.1%}, "
        f"another one is believed surely for {unknown.sure_and_wrong:.1%}"
    )


def _tell(done: int, of: int) -> None:
    click.echo(f"\r{done} of {of}", err=True, nl=done == of)


def _lines(simulation: Simulation) -> Iterator[str]:
    yield f"edition {simulation.edition}, {simulation.customers} customers, seed {simulation.seed}"
    after = sorted({n for curve in simulation.curves.values() for n in curve.right_after})
    yield f"  {'right after':<16}" + "".join(f"{n:>7}" for n in after) + "    end   questions"
    for reader, curve in simulation.curves.items():
        shares = "".join(f"{curve.right_after[n]:>7.1%}" for n in after)
        yield f"  {reader:<16}{shares}{curve.right_at_the_end:>7.1%}{curve.mean_questions:>12.1f}"
    if simulation.both_within_two_fixes is not None:
        share = f"{simulation.both_within_two_fixes:.1%}"
        yield f"  two causes at once: {simulation.two_causes} customers, both cured within two fixes: {share}"
    yield from _honesty(simulation)
    yield from _causes(simulation)
    yield from _confusions(simulation)


def _honesty(simulation: Simulation) -> Iterator[str]:
    honest = simulation.honesty
    yield (
        f"  honesty: Brier {honest.brier:.3f}, {honest.log_score_bits:.3f} bit a customer, "
        f"calibration error {honest.calibration_error:.3f}"
    )
    for one in honest.bins:
        right = share(round(one.observed * one.count), one.count)
        yield f"    of what was said at {one.forecast:.0%}, right: {right} ({one.count} customers)"


def _causes(simulation: Simulation) -> Iterator[str]:
    worst = [
        one for one in simulation.by_cause if one.right < one.customers and one.customers >= FEWEST_CUSTOMERS
    ]
    if worst:
        yield f"  causes that go wrong most often (of those met {FEWEST_CUSTOMERS} times or more):"
        yield from (
            f"    {one.cause}: {one.right} of {one.customers} right" for one in worst[:CONFUSIONS_SHOWN]
        )


def _confusions(simulation: Simulation) -> Iterator[str]:
    unnamed = sum(one.count for one in simulation.confusions if one.taken_for is None)
    named = [one for one in simulation.confusions if one.taken_for is not None]
    yield (
        f"  a wrong remedy named: {sum(one.count for one in named)} customers; "
        f"handed over, or not done after all questions: {unnamed}"
    )
    yield "  the commonest, the check that tells the causes behind them apart best, and how one of them went:"
    for one in named[:CONFUSIONS_SHOWN]:
        missing = "" if one.told_apart else " (a check is missing)"
        yield f"  {one.count:>5}  {one.named} instead of {one.right}"
        yield f"         {one.true} taken for {one.taken_for}: {one.check}, {one.bits:.2f} bit{missing}"
        yield from (f"           {line}" for line in one.example)


def _draw(simulation: Simulation, path: Path) -> None:
    """Two pictures: the curves in `path`, and beside it how honest confidence was."""
    heading = f"Right remedy first, {simulation.customers} customers, edition {simulation.edition}"
    curves = {str(reader): curve.by_question for reader, curve in simulation.curves.items()}
    honest = path.with_stem(f"{path.stem}-honesty")
    try:
        path.write_text(draw_curves(curves, heading), encoding="utf-8")
        honest.write_text(
            draw_reliability(simulation.honesty.bins, "How honest confidence is"), encoding="utf-8"
        )
    except OSError as error:
        raise RequestError(f"{path}: {error.strerror}", "name a file that can be written") from error
    click.echo(f"drawn: {path}, {honest}", err=True)
