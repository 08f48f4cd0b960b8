"""`helpline chat`: the same conversation in the terminal, on a case that is forgotten when it ends."""

import sys
from collections.abc import Iterable, Iterator
from itertools import zip_longest
from typing import Final

import click

from assistant.conversation.events import Said
from assistant.helpline import Insight, MachineClock, conversing_with, insight_into, reasons_in
from assistant.workbench.replay import Player, as_text
from channels.knowledge import our_knowledge
from channels.terminal.spans import span_of
from channels.terminal.why import told
from kb.ids import Language
from kb.knowledge import Knowledge

SHOWN: Final = 5
WIDTH: Final = 46
DEEDS: Final = ("takes over", "hands back", "reopens")
HELP: Final = (
    "/forward 4h moves the clock · /desk reopens (takes over, hands back) is a person at the desk · "
    "/why shows what is believed and why · /end ends"
)
NOTHING_DUE: Final = "(nothing comes due)"


@click.command()
@click.option(
    "--reasoning",
    is_flag=True,
    help="Show what is believed, and what each question is worth, after each turn.",
)
@click.option("--language", type=click.Choice(["en", "es"]), help="Without it, the first words decide.")
@click.option("--zone", default="America/New_York", show_default=True, help="The room's IANA time zone.")
def chat(*, reasoning: bool, language: Language | None, zone: str) -> None:
    """Talk to the assistant in the terminal; nothing is kept.

    Lines that begin with a stroke are for the terminal: /forward 4h moves the clock, /desk reopens speaks for a person
    at the desk, /why shows what is believed and why, /end ends.
    """
    knowledge = our_knowledge()
    player = Player(knowledge, MachineClock().now(), zone)
    player.begin(language)
    click.echo(HELP)
    for line in _typed():
        said = _command(player, line) if line.startswith("/") else player.hear(line)
        if said is None:
            return
        _print(said)
        if reasoning and said:
            click.echo("\n".join(beside(insight_into(knowledge, player.case, player.at), knowledge, player)))


def _typed() -> Iterator[str]:
    asked = "> " if sys.stdin.isatty() else ""
    while True:
        try:
            line = input(asked)
        except EOFError:
            return
        if line.strip():
            yield line


def _command(player: Player, line: str) -> list[Said] | None:
    """What is said when the terminal's own line is carried out; None at the end."""
    name, _, rest = line[1:].partition(" ")
    if name == "end":
        return None
    if name == "forward" and (span := span_of(rest)) is not None:
        said = player.wait(span)
        click.echo(f"(it is {player.at:%Y-%m-%d %H:%M} UTC)")
        if not said:
            click.echo(NOTHING_DUE)
        return said
    if name == "why" and not rest.strip():
        log = tuple(enumerate(player.events, start=1))
        click.echo("\n".join(told(reasons_in(conversing_with(player.knowledge), log, player.at))))
        return []
    if name == "desk" and rest.strip() in DEEDS:
        return player.desk("Desk", rest.strip())
    click.echo(f"not a line for the terminal: {line}\n{HELP}")
    return []


def _print(said: Iterable[Said]) -> None:
    for one in said:
        click.echo(f"ASSISTANT: {as_text(one)}")


def beside(insight: Insight, knowledge: Knowledge, player: Player) -> Iterator[str]:
    """Two columns: the leading causes, and what could be asked next with its gain."""
    causes = [f"{share:6.1%} {cause}" for cause, share in insight.marginals[:SHOWN]]
    causes += [
        f"{insight.nothing_wrong:6.1%} (nothing wrong)",
        f"{insight.something_else:6.1%} (something else)",
    ]
    checks = [f"{one.gain_bits:.3f} bit {one.check} ({one.effort:.0f} min)" for one in insight.next[:SHOWN]]
    yield f"    {'believed':<{WIDTH}}| next question worth"
    for cause, check in zip_longest(causes, checks, fillvalue=""):
        yield f"    {cause:<{WIDTH}}| {check}".rstrip()
    yield f"    {player.case.state}, {insight.entropy_bits:.2f} bit left to learn, edition {knowledge.edition}"
