"""`helpline desk`: the desk's own operations."""

import json
from datetime import datetime

import click

from assistant.casebook import DeskRow
from assistant.conversation.ids import CaseId
from assistant.helpline import Role
from channels.house import door_of, open_house


@click.group()
def desk() -> None:
    """The desk's own operations."""


@desk.command("list")
@click.option("--json", "as_json_", is_flag=True, help="One JSON object a case, a line each.")
@click.option("--demo", "in_demo", is_flag=True, help="The demo's cases.")
def list_cases(*, as_json_: bool, in_demo: bool) -> None:
    """Cases that need a person, the most urgent first."""
    rows = open_house(demo=in_demo).helpline.desk_list()
    for row in rows:
        click.echo(json.dumps(_as_row(row), ensure_ascii=False) if as_json_ else _line(row))
    if not rows and not as_json_:
        click.echo("no case needs a person")


@desk.command("add-person")
@click.argument("name")
@click.option("--role", type=click.Choice(["desk", "author", "lead"]), default="desk", show_default=True)
@click.password_option(help="Asked for where it is not given; at least 12 characters.")
@click.option("--demo", "in_demo", is_flag=True, help="At the demo's desk.")
def add_person(name: str, role: Role, password: str, *, in_demo: bool) -> None:
    """Let NAME sign in at the desk, or give them a new password; their open sessions end."""
    house = open_house(demo=in_demo)
    door_of(house.casebook).add(name, role, password, house.clock.now())
    click.echo(f"{name} may sign in at /desk/ ({role})")


@desk.command("erase")
@click.argument("case")
@click.option("--demo", "in_demo", is_flag=True, help="A case of the demo.")
@click.confirmation_option(prompt="Erase all words, names and numbers of the person of this case?")
def erase(case: str, *, in_demo: bool) -> None:
    """Erase all that is personal of the person of CASE; the facts of their cases stay."""
    helpline = open_house(demo=in_demo).helpline
    click.echo(f"{helpline.erase_person(helpline.person_of(case))} texts erased")


@desk.command("reopen")
@click.argument("case")
@click.option("--colleague", default="Desk", show_default=True, help="Who at the desk says so.")
@click.option("--demo", "in_demo", is_flag=True, help="A case of the demo.")
def reopen(case: str, colleague: str, *, in_demo: bool) -> None:
    """After a danger: repair may go on in CASE. Say so only once you know that everybody is safe."""
    house = open_house(demo=in_demo)
    answer = house.helpline.reopen_after_danger(CaseId(case), colleague, house.clock.now())
    click.echo(f"{case}: {answer.state}")


def _as_row(row: DeskRow) -> dict[str, object]:
    return {
        "case": row.case,
        "room": row.room,
        "state": row.state,
        "voice": row.voice,
        "why": row.why,
        "urgency": row.urgency,
        "cause": row.cause,
        "probability": row.cause_probability,
        "needs_since": _hour(row.needs_since),
        "last_message_at": _hour(row.last_message_at),
        "phone_now": row.phone_now,
        "fault": row.fault,
    }


def _line(row: DeskRow) -> str:
    """Case, room, why a person is needed, what is suspected, since when."""
    suspected = (
        f"{row.cause} ({row.cause_probability:.0%})" if row.cause and row.cause_probability else "nothing yet"
    )
    call = "PHONE THEM NOW  " if row.phone_now else ""
    return (
        f"{row.case}  {call}{row.state}: {row.why or 'no person asked for'}, room {row.room or 'without a name'}, "
        f"suspected {suspected}, since {_hour(row.needs_since) or 'never'}"
    )


def _hour(at: datetime | None) -> str | None:
    return None if at is None else at.strftime("%Y-%m-%dT%H:%MZ")
