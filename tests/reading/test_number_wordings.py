"""Numbers as people text them: which are ours, what they are, in what unit, and what is said of the past.

Each line is a text of our own and what a careful reader makes of it: `quantity value unit`, several parted by commas,
`?` where the unit stays open. Nothing expected means that no number of the text is a reading, a size or a rating.
"""

import pytest

from assistant.reading import Reading
from tests.reading.conftest import Says

COUNTED_FROM = 0.5

TEMPERATURES = [
    ("my walk-in is sitting at 54 and i want it at 38", "room_c 54 F, target_c 38 F"),
    ("Cooler should be 36. It's 49.", "target_c 36 F, room_c 49 F"),
    ("it's supposed to hold 40 and it's 57", "target_c 40 F, room_c 57 F"),
    ("room is 60ish, need 38", "room_c 60 F, target_c 38 F"),
    ("50 degrees in here and climbing", "room_c 50 F"),
    ("thermostat set to 34, room never gets under 46", "target_c 34 F, room_c 46 F"),
    ("Set temp 38 actual temp 51", "target_c 38 F, room_c 51 F"),
    ("SP 38 and it reads 52.5", "target_c 38 F, room_c 52.5 F"),
    ("its 51 and i need it down to 37 by friday", "room_c 51 F, target_c 37 F"),
    ("won't go below 48", "room_c 48 F"),
    ("it wont come down past 55 even overnight", "room_c 55 F"),
    ("stuck at 62F all day long", "room_c 62 F"),
    ("hovering between 48 and 52", "room_c 50 F"),
    ("But 53 in there", "room_c 53 F"),
    ("hottest ive seen it is 58 today", "room_c 58 F"),
    ("We're at 9C and the target is 3C", "room_c 9 C, target_c 3 C"),
    ("room at 9 C, should be 3", "room_c 9 C, target_c 3 C"),
    ("the display says 41 but the probe thermometer i trust says 47", "room_c 41 F, thermometer_c 47 F"),
    ("my own thermometer reads 44, box reads 38", "thermometer_c 44 F, room_c 38 F"),
    ("it is 98 out and the cooler is 55", "outdoor_c 98 F, room_c 55 F"),
    ("98 degrees outside today, 56 inside", "outdoor_c 98 F, room_c 56 F"),
    ("outside temp is 104", "outdoor_c 104 F"),
    ("it hit 101 here yesterday and the room is 52", "room_c 52 F"),
    ("Phoenix. 112. Cooler can't keep up.", "outdoor_c 112 F"),
    ("air out of the vent is 40, room 55", "leaving_air_c 40 F, room_c 55 F"),
    ("blowing 34 degree air but the room is 50", "leaving_air_c 34 F, room_c 50 F"),
    ("the milk is at 46 and the room says 41", "product_c 46 F, room_c 41 F"),
    ("kegs are at 50, cooler shows 44", "product_c 50 F, room_c 44 F"),
    ("coil probe says 25 and the room says 48", "coil_c 25 F, room_c 48 F"),
    ("normally runs 37, now 50", "room_c 50 F"),
    ("used to hold 36 no problem, this week it's 47", "room_c 47 F"),
    ("it was 58 at noon and its 50 now", "room_c 50 F"),
    ("ok 47 now", "room_c 47 F"),
    ("down to 44!", "room_c 44 F"),
    ("still 52", "room_c 52 F"),
    ("went up 6 degrees since lunch, now 49", "room_c 49 F"),
    ("display and thermometer are 4 apart", ""),
    ("its about 5 degrees off from my thermometer", ""),
    ("temp swings 3 or 4 degrees", ""),
    ("within 2 degrees of each other", ""),
    ("dropped 2 degrees in an hour", ""),
    ("it gained ten degrees overnight", ""),
    ("we have 3 coolers and 2 of them are fine", ""),
    ("Cooler 2 is fine at 37. Cooler 1 is the one, 51.", "room_c 51 F"),
    ("cooler number 3 reads 55", "room_c 55 F"),
    ("1200 dozen eggs, 2 pallets, and 58 degrees", "room_c 58 F"),
    ("400 lbs of kale went in this morning", ""),
    ("unit is 8 years old", ""),
    ("breaker 14 tripped twice", ""),
    ("call me at 5", ""),
    ("it is a 20 amp breaker on 12 gauge wire", "cord_gauge 12 awg"),
    ("my AC's own thermostat goes down to 60", ""),
    ("minus 5 outside", "outdoor_c -5 ?"),
    ("temp is thirty eight and i want thirty four", "room_c 38 F, target_c 34 F"),
    ("fifty two degrees in the walk in", "room_c 52 F"),
    ("mid 50s in there", "room_c 55 F"),
    ("no i said 48 not 58", "room_c 48 F"),
    ("set at 36, sorry 38", "target_c 38 F"),
    # Spanish
    ("la cámara está a 12 y la quiero a 4", "room_c 12 C, target_c 4 C"),
    ("marca 9 grados y debería estar en 3", "room_c 9 C, target_c 3 C"),
    ("esta en 52, lo tengo puesto a 38", "room_c 52 F, target_c 38 F"),
    ("no baja de 10 por más que le pongo 3", "room_c 10 C, target_c 3 C"),
    ("esa vez sí bajó a 4 pero ahora se queda en 10", "room_c 10 C"),
    ("bajó de 10 a 6 y sigue bajando", "room_c 6 C"),
    ("subió 4 grados desde ayer", ""),
    ("sube y baja como 2 grados", ""),
    ("hay 3 grados de diferencia con mi termómetro", ""),
    ("varía unos 3 grados", ""),
    ("el termómetro dice 8 y la pantalla 4", "thermometer_c 8 C, room_c 4 C"),
    ("afuera hace 35 y adentro 14", "outdoor_c 35 C, room_c 14 C"),
    ("aquí estamos a 42 y el cuarto no puede", "outdoor_c 42 ?"),
    ("afuera a -5 y el aparato ni arranca", "outdoor_c -5 ?"),
    ("la leche está a 7 y el cuarto marca 5", "product_c 7 C, room_c 5 C"),
    ("el aire sale a 6 grados", "leaving_air_c 6 C"),
    ("sale a 6 el aire y el cuarto está en 11", "leaving_air_c 6 C, room_c 11 C"),
    ("antes aguantaba en 4, ahora anda en 11", "room_c 11 C"),
    ("anda por los 50 y tantos", "room_c 55 F"),
    ("marca cincuenta y cuatro", "room_c 54 F"),
    ("está a 8,5 y lo pedimos a 2", "room_c 8.5 C, target_c 2 C"),
    ("El cuarto dos está bien en 37. El uno es el malo, 51.", "room_c 51 F"),
    ("cuarto de queso a 12", "room_c 12 C"),
    ("tengo 40 cajas de fresa adentro", ""),
    ("el aparato tiene 3 años", ""),
    ("le entran 2 personas cada rato", ""),
]

SIZES = [
    ("room is 8x10x8", "room_length_m 8 ft, room_width_m 10 ft, room_height_m 8 ft"),
    ("10 by 12 and 8 tall", "room_length_m 10 ft, room_width_m 12 ft, room_height_m 8 ft"),
    ("its an 8' x 10' with 7'6 ceiling", "room_length_m 8 ft, room_width_m 10 ft, room_height_m 7.5 ft"),
    ("8 ft wide, 12 ft long, 8 ft high", "room_width_m 8 ft, room_length_m 12 ft, room_height_m 8 ft"),
    ("7'6\" by 9' by 8'", "room_length_m 7.5 ft, room_width_m 9 ft, room_height_m 8 ft"),
    ("ten by ten by eight", "room_length_m 10 ft, room_width_m 10 ft, room_height_m 8 ft"),
    ("8 × 10 × 7.5 ft", "room_length_m 8 ft, room_width_m 10 ft, room_height_m 7.5 ft"),
    ("12x16, 9 ft ceilings", "room_length_m 12 ft, room_width_m 16 ft, room_height_m 9 ft"),
    (
        "height 8 feet, width 10 feet, length 14 feet",
        "room_height_m 8 ft, room_width_m 10 ft, room_length_m 14 ft",
    ),
    ("it's 3m x 4m x 2.5m", "room_length_m 3 m, room_width_m 4 m, room_height_m 2.5 m"),
    ("12 feet long and 8 feet wide", "room_length_m 12 ft, room_width_m 8 ft"),
    ("the ceiling is 8 foot", "room_height_m 8 ft"),
    ("mide 6 por 3 por 2.60", "room_length_m 6 m, room_width_m 3 m, room_height_m 2.6 m"),
    (
        "3 metros de ancho por 4 de largo y 2.5 de alto",
        "room_width_m 3 m, room_length_m 4 m, room_height_m 2.5 m",
    ),
    ("es de 10 x 12 pies, 8 de alto", "room_length_m 10 ft, room_width_m 12 ft, room_height_m 8 ft"),
    ("2,40 de alto, 3 de fondo y 2 de ancho", "room_height_m 2.4 m, room_length_m 3 m, room_width_m 2 m"),
    (
        "tres por cuatro metros y dos y medio de altura",
        "room_length_m 3 m, room_width_m 4 m, room_height_m 2.5 m",
    ),
]

RATINGS = [
    ("its a 12k btu window unit", "unit_w 12000 BTU"),
    ("18,000 BTU mini split", "unit_w 18000 BTU"),
    ("1.5 ton unit", "unit_w 1.5 ton"),
    ("one and a half ton", "unit_w 1.5 ton"),
    ("3500 W cooling", "unit_w 3500 W"),
    ("3.5 kW unit", "unit_w 3.5 kW"),
    ("un aire de ventana de 12000", "unit_w 12000 BTU"),
    ("minisplit de una tonelada y media", "unit_w 1.5 ton"),
    ("aire de 12 mil btu", "unit_w 12000 BTU"),
    ("15000btu", "unit_w 15000 BTU"),
    ("a 24k unit in a 10x14", "unit_w 24000 BTU, room_length_m 10 ft, room_width_m 14 ft"),
    ("50 foot extension cord, 14 gauge", "cord_m 50 ft, cord_gauge 14 awg"),
    ("25ft of 12/3", "cord_m 25 ft, cord_gauge 12 awg"),
    ("16-gauge cord 100 feet long", "cord_gauge 16 awg, cord_m 100 ft"),
    ("extensión de 15 m del 14", "cord_m 15 m, cord_gauge 14 awg"),
    ("cable calibre 12, 20 metros", "cord_gauge 12 awg, cord_m 20 m"),
    ("label says 115 volts 10.5 amps", "supply_v 115 V, unit_a 10.5 A"),
    ("meter shows 108V at the outlet", "supply_v 108 V"),
    ("draws 9.8A", "unit_a 9.8 A"),
    ("llegan 112 voltios", "supply_v 112 V"),
    ("4 inches of spray foam", "foam_m 4 in"),
    ("two inch foam board", "foam_m 2 in"),
    ("3 and a half inches of foam", "foam_m 3.5 in"),
    ("espuma de 10 cm", "foam_m 10 cm"),
    ("unicel de 4 pulgadas en las paredes", "foam_m 4 in"),
    ("6 inch gap under the door", ""),
]

TIMES = [
    ("runs 10 minutes then rests 5 minutes", "run_s 10 min, rest_s 5 min"),
    ("it runs ten, rests ten", "run_s 10 min, rest_s 10 min"),
    ("compressor runs for about 3 min and shuts off for 10", "run_s 3 min, rest_s 10 min"),
    ("on 4 minutes off 12 minutes", "run_s 4 min, rest_s 12 min"),
    ("power was out 6 hours last night", "outage_s 6 h"),
    ("lost power for half an hour", "outage_s 0.5 h"),
    ("trabaja 10 minutos y descansa 5", "run_s 10 min, rest_s 5 min"),
    ("prende dos minutos y se apaga", "run_s 2 min"),
    ("se fue la luz 3 horas", "outage_s 3 h"),
    ("estuvimos sin luz como hora y media", "outage_s 1.5 h"),
    ("been like this for 3 days", ""),
    ("gave it four hours", ""),
    ("I cleaned it 20 minutes ago", ""),
    ("hace 2 horas que no enfría", ""),
]


def told(reading: Reading) -> str:
    """The numbers of a reading that stand for now, as the lines above write them."""
    return ", ".join(
        f"{q.quantity} {q.value:g} {q.unit or '?'}"
        for q in reading.quantities
        if q.quantity and q.when in {"now", "by_another"} and q.confidence >= COUNTED_FROM
    )


@pytest.mark.parametrize(("text", "expected"), [*TEMPERATURES, *SIZES, *RATINGS, *TIMES])
def test_numbers_are_what_a_careful_reader_makes_of_them(says: Says, text: str, expected: str) -> None:
    assert told(says(text)) == expected
