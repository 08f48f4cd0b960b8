"""`helpline sum`: one engineering sum at a time. Numbers take a unit (`38F`, `8ft`, `12000btu`); bare ones are SI."""

import dataclasses
import json
import math
from collections.abc import Callable, Iterator, Mapping
from datetime import UTC, datetime
from pathlib import Path
from typing import Any, Final

import click

from assistant import engineering
from assistant.conversation.sum_events import SumDone
from assistant.conversation.sums_done import trend_done
from assistant.conversation.worksheets import picture_of
from assistant.engineering import OutOfRangeError
from kb.errors import RequestError

FACTORS: Final[Mapping[str, Mapping[str, float]]] = {
    "length": {"m": 1.0, "cm": 0.01, "mm": 0.001, "ft": 0.3048, "in": 0.0254},
    "power": {"w": 1.0, "kw": 1000.0, "btu": 1.0 / 3.412142},
    "mass": {"kg": 1.0, "t": 1000.0, "lb": 0.45359237},
}


class Measure(click.ParamType):  # type: ignore[type-arg]  # generic only since click 8.5
    """A number with its unit, turned into SI; `kind` is a key of `FACTORS`."""

    def __init__(self, kind: str) -> None:
        self.name = kind

    def convert(
        self, value: Any, param: click.Parameter | None, ctx: click.Context | None
    ) -> float:  # as click has it
        """`8ft` as 2.4384."""
        number, unit = _split(str(value))
        factor = FACTORS[self.name].get(unit or next(iter(FACTORS[self.name])))
        if number is None or factor is None:
            self.fail(f"`{value}` is no {self.name}; units: {', '.join(FACTORS[self.name])}", param, ctx)
        return number * factor


class Celsius(click.ParamType):  # type: ignore[type-arg]  # generic only since click 8.5
    """A temperature, `38F` or `3.3C` or `3.3`."""

    name = "temperature"

    def convert(
        self, value: Any, param: click.Parameter | None, ctx: click.Context | None
    ) -> float:  # as click has it
        """`38F` as 3.33."""
        number, unit = _split(str(value))
        if number is None or unit not in {"", "c", "f"}:
            self.fail(f"`{value}` is no temperature; write 38F or 3.3C", param, ctx)
        return engineering.celsius_of(number) if unit == "f" else number


class TextedReading(click.ParamType):  # type: ignore[type-arg]  # generic only since click 8.5
    """A reading with its hour, `2h=52F`."""

    name = "reading"

    def convert(
        self, value: Any, param: click.Parameter | None, ctx: click.Context | None
    ) -> engineering.RoomReading:  # Any: as click has it
        """`2h=52F` as two hours, 11.1 °C."""
        if isinstance(value, engineering.RoomReading):
            return value
        hour, _, degrees = str(value).partition("=")
        at_h, unit = _split(hour)
        if at_h is None or unit not in {"", "h"} or not degrees:
            self.fail(f"`{value}` is no reading; write hours and temperature, like 2h=52F", param, ctx)
        return engineering.RoomReading(at_h=at_h, room_c=CELSIUS.convert(degrees, param, ctx))


CELSIUS: Final = Celsius()
LENGTH: Final = Measure("length")
POWER: Final = Measure("power")
MASS: Final = Measure("mass")
READING: Final = TextedReading()


def _split(text: str) -> tuple[float | None, str]:
    """The number and the unit behind it, in small letters; None for a number that is none.

    >>> _split("12000 BTU"), _split("cold")
    ((12000.0, 'btu'), (None, 'cold'))
    """
    bare = text.strip().lower().replace("°", "")
    digits = bare.rstrip("abcdefghijklmnopqrstuvwxyz ")
    unit = bare[len(digits) :].strip()
    try:
        return float(digits), unit
    except ValueError:
        return None, unit


@click.group("sum")
def sum_() -> None:
    """One engineering sum: what goes in, what comes out, what it stands on.

    Planning figures. Local codes and licensed trades stand above all of them.
    """


Picture = click.option(
    "--picture",
    type=click.Path(dir_okay=False, writable=True, path_type=Path),
    help="Write an SVG of it to this file.",
)
NO_HOUR: Final = datetime(2000, 1, 1, tzinfo=UTC)
"""A picture shows no date."""

AsJson = click.option("--json", "as_json", is_flag=True, help="One JSON object.")


def tell(work: Callable[[], Any], *, as_json: bool) -> None:  # Any: each sum has its own result
    """Work a sum out and print it, line by line or as JSON; what cannot be becomes one line with its mend."""
    try:
        result = _plain(work())
    except OutOfRangeError as error:
        what, _, mend = str(error).partition("; ")
        raise RequestError(what, mend or "see `helpline sum --help`") from error
    if as_json:
        click.echo(json.dumps(result, ensure_ascii=False))
        return
    for name, value in _lines(result):
        click.echo(f"{name}: {value}")


def _plain(value: Any) -> Any:  # Any: dataclasses, mappings, tuples and numbers, nested
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        return {field.name: _plain(getattr(value, field.name)) for field in dataclasses.fields(value)}
    if isinstance(value, Mapping):
        return {str(name): _plain(one) for name, one in value.items()}
    if isinstance(value, tuple):
        return [_plain(one) for one in value]
    if isinstance(value, float):
        return None if math.isinf(value) else float(f"{value:.6g}")
    return value


def _lines(value: Any, name: str = "") -> Iterator[tuple[str, str]]:  # Any: what `_plain` gives
    if isinstance(value, dict):
        for key, one in value.items():
            yield from _lines(one, f"{name}.{key}" if name else key)
    elif isinstance(value, list) and value and isinstance(value[0], dict | list):
        for place, one in enumerate(value):
            yield from _lines(one, f"{name}.{place}")
    elif isinstance(value, list):
        yield name, ", ".join(map(str, value)) or "-"
    else:
        yield name, "-" if value is None else f"{value:.4g}" if isinstance(value, float) else str(value)


@sum_.command("trend")
@click.argument("readings", nargs=-1, required=True, type=READING)
@click.option("--target", type=CELSIUS, required=True, help="What the room should hold.")
@click.option("--noise-k", type=float, help="Error of one reading in kelvin, if it is known.")
@Picture
@AsJson
def show_trend(
    readings: tuple[engineering.RoomReading, ...],
    target: float,
    noise_k: float | None,
    picture: Path | None,
    *,
    as_json: bool,
) -> None:
    """Where a room is going, from READINGS like 0h=68F 2h=55F 4h=50F."""

    def work() -> engineering.Trend:
        trend = engineering.trend_of(readings, target, noise_k=noise_k)
        ordered = sorted(readings, key=lambda reading: reading.at_h)
        last_h = ordered[-1].at_h
        from_last = [engineering.RoomReading(at_h=one.at_h - last_h, room_c=one.room_c) for one in ordered]
        write_picture(picture, trend_done(NO_HOUR, from_last, target, trend))
        return trend

    tell(work, as_json=as_json)


def write_picture(path: Path | None, done: SumDone) -> None:
    """The picture of a sum, where one was asked for."""
    if path is not None:
        path.write_text(picture_of(done, "F"), encoding="utf-8")


def _box(
    length: float, width: float, height: float, insulation: str, thickness: float, outside: float
) -> tuple[engineering.Face, ...]:
    """The faces of a box room with one kind of insulation all round and a bare slab below."""
    layer = engineering.Layer(material=insulation, thick_m=thickness)
    return engineering.box_faces(
        length, width, height, u_w_m2k=engineering.u_w_m2k([layer]), outside_c=outside
    )


@sum_.command("load")
@click.option("--length", type=LENGTH, required=True)
@click.option("--width", type=LENGTH, required=True)
@click.option("--height", type=LENGTH, required=True)
@click.option("--insulation", default="polyurethane", show_default=True)
@click.option("--thickness", type=LENGTH, default="4in", show_default=True)
@click.option("--room", type=CELSIUS, required=True)
@click.option("--outside", type=CELSIUS, required=True)
@click.option(
    "--passages", type=float, help="Door openings a day; without it a table of air changes decides."
)
@click.option("--product", type=MASS, default="0", help="Warm product a day.")
@click.option("--product-at", type=CELSIUS, default="25C", show_default=True)
@AsJson
def show_load(
    *,
    length: float,
    width: float,
    height: float,
    insulation: str,
    thickness: float,
    room: float,
    outside: float,
    passages: float | None,
    product: float,
    product_at: float,
    as_json: bool,
) -> None:
    """The heat load of a box room, itemised, with the dominant term and what mending it is worth."""

    def work() -> engineering.Load:
        door = None if passages is None else engineering.Door(wide_m=0.9, high_m=2.0, passages=passages)
        batch = engineering.Batch(mass_kg=product, from_c=product_at, heat_kj_kgk=3.8)
        job = engineering.RoomJob(
            room_c=room,
            outside_c=outside,
            volume_m3=length * width * height,
            faces=_box(length, width, height, insulation, thickness, outside),
            door=door,
            batches=(batch,) if product else (),
        )
        return engineering.heat_load(job)

    tell(work, as_json=as_json)


@sum_.command("capacity")
@click.option("--rated", type=POWER, required=True, help="As on the nameplate, like 12000btu.")
@click.option("--room", type=CELSIUS, required=True)
@click.option("--outside", type=CELSIUS, required=True)
@AsJson
def show_capacity(rated: float, room: float, outside: float, *, as_json: bool) -> None:
    """What a room air conditioner gives at this room and outdoor temperature."""
    tell(lambda: engineering.delivered_cooling(rated, room, outside), as_json=as_json)


@sum_.command("size")
@click.option(
    "--load", "load_w", type=POWER, required=True, help="Mean heat of a day, as `sum load` gives it."
)
@click.option("--room", type=CELSIUS, required=True)
@click.option("--outside", type=CELSIUS, required=True)
@AsJson
def show_size(load_w: float, room: float, outside: float, *, as_json: bool) -> None:
    """The rating of the unit that a load needs."""
    tell(lambda: engineering.unit_for(load_w, room, outside), as_json=as_json)


@sum_.command("pulldown")
@click.option("--volume-m3", type=float, required=True)
@click.option("--inner-m2", type=float, required=True, help="Inside of walls, ceiling and floor together.")
@click.option("--loss-w-k", type=float, required=True, help="Heat of walls and air per kelvin.")
@click.option("--rated", type=POWER, required=True)
@click.option("--outside", type=CELSIUS, required=True)
@click.option("--start", type=CELSIUS, required=True)
@click.option("--target", type=CELSIUS, required=True)
@click.option("--product", type=MASS, default="0")
@AsJson
def show_pull_down(
    *,
    volume_m3: float,
    inner_m2: float,
    loss_w_k: float,
    rated: float,
    outside: float,
    start: float,
    target: float,
    product: float,
    as_json: bool,
) -> None:
    """The expected fall of a room, quarter hour by quarter hour, and when it arrives or where it stalls."""
    cold = engineering.ColdRoom(
        volume_m3=volume_m3,
        inner_m2=inner_m2,
        ua_w_k=loss_w_k,
        gains_w=0.0,
        rated_w=rated,
        outdoor_c=outside,
        air_start_c=start,
        product_kg=product,
    )
    tell(lambda: engineering.expected_pull_down(cold, target), as_json=as_json)


@sum_.command("probes")
@click.argument("first", type=CELSIUS)
@click.argument("second", type=CELSIUS)
@click.option("--own", is_flag=True, help="Both are the controller's own probes, in the same moving air.")
@AsJson
def show_probes(first: float, second: float, *, own: bool, as_json: bool) -> None:
    """Whether FIRST and SECOND, side by side, agree."""
    tell(
        lambda: engineering.side_by_side(first, second, "own_probes" if own else "separate"), as_json=as_json
    )


@sum_.command("power")
@click.option("--amps", type=float, required=True)
@click.option("--volts", type=float, default=120.0, show_default=True)
@click.option("--distance", type=LENGTH, required=True, help="One way, like 100ft.")
@click.option("--gauge", type=int, required=True, help="AWG of the copper.")
@click.option("--inverter", is_flag=True)
@AsJson
def show_power(
    amps: float, volts: float, distance: float, gauge: int, *, inverter: bool, as_json: bool
) -> None:
    """Voltage lost on the way to a unit, running and starting. It never approves an extension cord."""
    tell(lambda: engineering.voltage_drop(amps, distance, gauge, volts, inverter=inverter), as_json=as_json)


@sum_.command("product")
@click.argument("name")
@AsJson
def show_product(name: str, *, as_json: bool) -> None:
    """What is held of a commodity by its id, like `broccoli`, and where each figure is from."""
    tell(lambda: engineering.commodity(name), as_json=as_json)


@sum_.command("air")
@click.argument("temperature", type=CELSIUS)
@click.argument("humidity_pct", type=float)
@AsJson
def show_air(temperature: float, humidity_pct: float, *, as_json: bool) -> None:
    """Moist air at TEMPERATURE and HUMIDITY_PCT: water, enthalpy, dew or frost point."""
    tell(lambda: engineering.moist_air(temperature, humidity_pct), as_json=as_json)
