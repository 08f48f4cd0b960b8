"""`helpline sum`, the sums of a whole room and those around it; `sums` holds the group and the single ones."""

from collections.abc import Callable
from pathlib import Path
from typing import Any, TypeVar

import click

from assistant import engineering
from assistant.conversation.sums_done import match_done
from channels.terminal.sums import (
    CELSIUS,
    LENGTH,
    MASS,
    NO_HOUR,
    POWER,
    AsJson,
    Picture,
    sum_,
    tell,
    write_picture,
)

__all__ = ["sum_"]

Command = TypeVar("Command", bound=Callable[..., Any])  # Any: a command takes what its options are called


def of_a_room(command: Command) -> Command:
    """The options that tell of a room; only length and width must be told, the rest is guessed and said so."""
    for option in reversed(
        (
            click.option("--length", type=LENGTH, required=True),
            click.option("--width", type=LENGTH, required=True),
            click.option("--height", type=LENGTH, help="Untold: 2.4 m."),
            click.option("--foam", type=LENGTH, help="Thickness of the insulation."),
            click.option("--walls", type=click.Choice(["foam", "thin_or_fibrous", "wet_or_rotten"])),
            click.option("--target", type=CELSIUS, help="What the room should hold; untold: 38F."),
            click.option("--outside", type=CELSIUS),
            click.option("--door", type=click.Choice(["usual", "often_or_propped"])),
            click.option("--product", type=MASS, help="Warm product a day."),
            click.option("--product-at", type=CELSIUS, help="How warm it comes in; untold: 25C."),
        )
    ):
        command = option(command)
    return command


def told(options: dict[str, Any]) -> engineering.ToldRoom:  # Any: options of several kinds
    """The room that the options tell of."""
    names = {
        "length": "long_m", "width": "wide_m", "height": "high_m", "foam": "foam_m", "walls": "walls",
        "target": "target_c", "outside": "outdoor_c", "door": "door_use", "product": "product_kg",
        "product_at": "product_from_c",
    }  # fmt: skip
    return engineering.ToldRoom(**{names[name]: value for name, value in options.items() if name in names})


@sum_.command("fit")
@of_a_room
@click.option("--rated", type=POWER, required=True, help="As on the nameplate, like 12000btu.")
@Picture
@AsJson
def show_fit(*, rated: float, picture: Path | None, as_json: bool, **options: Any) -> None:  # Any: see `told`
    """Whether a unit can ever bring the room to its target, the coldest it can hold, and by what it is short.

    What is not told is guessed with its weight; `turns` names the guesses that could turn the outcome.
    """

    def work() -> engineering.Match:
        room = told(options)
        match = engineering.match_of(room, rated)
        write_picture(picture, match_done(NO_HOUR, room, rated, match))
        return match

    tell(work, as_json=as_json)


@sum_.command("plan")
@of_a_room
@AsJson
def show_plan(*, as_json: bool, **options: Any) -> None:  # Any: see `told`
    """The rating to look for; `moves` names what would move it most. Wiring and installing are for the licensed."""
    tell(lambda: engineering.plan_of(told(options)), as_json=as_json)


@sum_.command("fall")
@of_a_room
@click.option("--rated", type=POWER, required=True)
@click.option("--start", type=CELSIUS, required=True, help="The room now.")
@AsJson
def show_fall(*, rated: float, start: float, as_json: bool, **options: Any) -> None:  # Any: see `told`
    """How the room should come down from START, quarter hour by quarter hour."""
    tell(lambda: engineering.told_pull_down(told(options), rated, start), as_json=as_json)


@sum_.command("coldest")
@click.option("--rated", type=POWER, required=True)
@click.option("--outside", type=CELSIUS, required=True)
@click.option("--loss-w-k", type=float, required=True, help="Heat of walls and air per kelvin.")
@click.option("--gains", type=POWER, default="0", help="Heat that does not depend on the temperature.")
@AsJson
def show_coldest(*, rated: float, outside: float, loss_w_k: float, gains: float, as_json: bool) -> None:
    """The coldest that a unit holds a room with this heat loss; below 2 C ice and not heat is the limit."""
    tell(
        lambda: engineering.coldest_room(
            lambda room_c: loss_w_k * (outside - room_c) + gains, rated, outside
        ),
        as_json=as_json,
    )


@sum_.command("outage")
@click.option("--start", type=CELSIUS, required=True, help="The product now.")
@click.option("--limit", type=CELSIUS, required=True)
@click.option("--outside", type=CELSIUS, required=True)
@click.option("--loss-w-k", type=float, required=True, help="Heat of walls and air per kelvin, door shut.")
@click.option("--volume-m3", type=float, required=True)
@click.option("--stored", type=MASS, default="0", help="Cold product in the room.")
@AsJson
def show_outage(
    *,
    start: float,
    limit: float,
    outside: float,
    loss_w_k: float,
    volume_m3: float,
    stored: float,
    as_json: bool,
) -> None:
    """Hours without cooling until the limit, doors shut. Judge food by its own temperature; the inspector decides."""
    tell(
        lambda: engineering.outage(
            start, limit, outside, ua_w_k=loss_w_k, volume_m3=volume_m3, stored_kg=stored
        ),
        as_json=as_json,
    )


@sum_.command("co2")
@click.option("--dry-ice", type=MASS, help="Dry ice, or the content of a cylinder.")
@click.option("--sugar", type=MASS, help="Sugar that ferments out.")
@click.option("--volume-m3", type=float, required=True)
@AsJson
def show_co2(*, dry_ice: float | None, sugar: float | None, volume_m3: float, as_json: bool) -> None:
    """Carbon dioxide in a closed room. It warns, it clears nothing: out, door open, measure at the floor."""
    tell(
        lambda: engineering.carbon_dioxide(
            (dry_ice or 0.0) + engineering.from_ferment_kg(sugar or 0.0), volume_m3
        ),
        as_json=as_json,
    )


@sum_.command("frost")
@click.option("--rated", type=POWER, required=True)
@click.option("--room", type=CELSIUS, required=True)
@click.option("--outside", type=CELSIUS, required=True)
@click.option("--run-min", type=float, default=15.0, show_default=True, help="Minutes of one run.")
@AsJson
def show_frost(*, rated: float, room: float, outside: float, run_min: float, as_json: bool) -> None:
    """Ice of one run, the rest that melts it, and the room temperature below which the coil frosts."""

    def work() -> dict[str, Any]:  # Any: a number, and two results
        given = engineering.delivered_cooling(rated, room, outside)
        return {
            "frosts_below_c": engineering.frosts_below_c(outside),
            "coil_c": given.coil_c,
            "thaw": engineering.thaw_after_run(
                given.cooling_w.middle, given.sensible_share, room, run_min=run_min
            ),
        }

    tell(work, as_json=as_json)


@sum_.command("bill")
@click.option("--watts", type=float, help="Measured at the plug while it runs.")
@click.option(
    "--run-share", type=float, default=0.6, show_default=True, help="Part of the time that it runs."
)
@click.option("--extra-heat", type=POWER, help="In place of watts: heat that a fault lets in, like 900btu.")
@click.option(
    "--cop", type=float, default=2.2, show_default=True, help="Cooling over power, with extra heat."
)
@click.option("--price", type=float, required=True, help="Of one kWh.")
@AsJson
def show_bill(
    *,
    watts: float | None,
    run_share: float,
    extra_heat: float | None,
    cop: float,
    price: float,
    as_json: bool,
) -> None:
    """What a unit costs a month by its watts, or what a fault costs by the heat that it lets in."""

    def work() -> engineering.Bill:
        if extra_heat is not None:
            return engineering.fault_costs(extra_heat, cop, price)
        if watts is None:
            raise engineering.OutOfRangeError("neither --watts nor --extra-heat is given; give one of them")
        return engineering.monthly_bill(watts, run_share, price)

    tell(work, as_json=as_json)


@sum_.command("ice-point")
@click.argument("reading", type=CELSIUS)
@click.option("--accuracy-k", type=float, default=1.0, show_default=True, help="As on the probe's sheet.")
@AsJson
def show_ice_point(*, reading: float, accuracy_k: float, as_json: bool) -> None:
    """A probe's READING in stirred crushed ice and water against 0 C: the comparison that says which is off."""
    tell(lambda: engineering.ice_point(reading, accuracy_k), as_json=as_json)


@sum_.command("generator")
@click.option("--amps", type=float, required=True)
@click.option("--volts", type=float, default=120.0, show_default=True)
@click.option("--inverter", is_flag=True)
@AsJson
def show_generator(*, amps: float, volts: float, inverter: bool, as_json: bool) -> None:
    """What a generator must carry, running and starting. It stands outdoors, 20 ft from openings; an electrician connects it."""
    tell(lambda: engineering.generator_size(amps, volts, inverter=inverter), as_json=as_json)


@sum_.command("gas")
@click.option("--charge-kg", type=float, required=True)
@click.option("--refrigerant", required=True, help="As on the nameplate, like R-32.")
@click.option("--volume-m3", type=float, required=True)
@AsJson
def show_gas(charge_kg: float, refrigerant: str, volume_m3: float, *, as_json: bool) -> None:
    """A refrigerant charge against the flammable limit of the room; a licensed installer decides."""
    tell(lambda: engineering.charge_in_room(charge_kg, refrigerant, volume_m3), as_json=as_json)
