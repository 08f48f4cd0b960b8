"""A small whole knowledge of our own, without faults, for tests to spoil: one filter, one coil, two causes."""

import io
import json
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Any

from ruamel.yaml import YAML

Node = Mapping[str, Any]  # plain values as YAML gives them
PLACE = {
    "symptom": "shared/symptoms",
    "finding": "room_ac/findings",
    "check": "room_ac/checks",
    "cause": "room_ac/causes",
    "fix": "room_ac/fixes",
    "hazard": "shared/hazards",
}
WORDS = {"thing": "things", "quality": "qualities", "quantity": "quantities"}

NODES = """
{thing: filter, means: the air filter, en: [filter], es: [filtro]}
--- {thing: coil, means: the cold fins, en: [coil], es: [serpentín]}
--- {quality: clean, opposite: dirty, en: [spotless], es: [reluciente]}
--- {quality: dirty, opposite: clean, en: [filthy], es: [sucio]}
---
quantity: room_c
kind: temperature
means: {en: the room's temperature, es: la temperatura del cuarto}
words: {en: [room], es: [cuarto]}
at_least: -30
at_most: 50
---
symptom: too_warm
means: {en: the room is too warm, es: el cuarto está caliente}
say_back: {en: the room is too warm, es: el cuarto está caliente}
sayings: {en: [not cold enough], es: [no enfría]}
---
finding: filter
means: {en: how dirty the filter is, es: qué tan sucio está el filtro}
topic: {en: filter, es: filtro}
normal: clean
background: {clogged: rarely}
things: [filter]
states:
  clean: {is: [clean], en: [clean], es: [limpio]}
  dusty: {en: [dusty], es: [con polvo]}
  clogged: {is: [dirty], en: [clogged], es: [tapado]}
---
finding: indoor_coil
means: {en: how dirty the coil is, es: qué tan sucio está el serpentín}
topic: {en: coil, es: serpentín}
normal: clean
things: [coil]
states:
  clean: {is: [clean], en: [clean], es: [limpio]}
  dirty: {is: [dirty], en: [dirty], es: [con mugre]}
---
finding: temperature
means: {en: how warm the room is, es: qué tan caliente está el cuarto}
topic: {en: room, es: cuarto}
normal: fine
states: {fine: {en: [fine], es: [bien]}, warm: {en: [warm], es: [caliente]}}
sum: {name: target_level, of: [room_c]}
---
check: look_at_filter
finds: filter
ask: {en: How does the filter look?, es: ¿Cómo está el filtro?}
again: {en: Can you see light through the filter?, es: ¿Pasa la luz por el filtro?}
why: {en: Because a clogged filter starves the coil., es: Porque un filtro tapado ahoga el serpentín.}
how: {en: Unplug the unit and slide it out., es: Desenchufe el aparato y saque el filtro.}
effort: {minutes: 3}
---
check: look_at_indoor_coil
finds: indoor_coil
ask: {en: How do the fins look?, es: ¿Cómo están las aletas?}
again: {en: Is there dirt between the fins?, es: ¿Hay mugre entre las aletas?}
why: {en: Because dirt keeps the cold in the coil., es: Porque la mugre no deja salir el frío.}
how: {en: Unplug the unit and look behind the grille., es: Desenchufe y mire detrás de la rejilla.}
effort: {minutes: 5}
---
check: read_room
finds: temperature
measures: room_c
ask: {en: What does the display say?, es: ¿Qué marca la pantalla?}
again: {en: Which number is on the display?, es: ¿Qué número hay en la pantalla?}
why: {en: Because the number shows what is missing., es: Porque el número dice cuánto falta.}
how: {en: Read the number on the box., es: Lea el número de la caja.}
effort: {minutes: 1}
---
cause: filter_clogged
means: {en: a dirty filter is choking the air, es: el filtro sucio ahoga el aire}
equipment: [window, through_wall]
how_common: common
complaints: {too_warm: usually}
shows: {filter: {clogged: nearly always}}
fixes: [clean_filter]
examples: [{said: {filter: clogged}, fix: clean_filter}]
---
cause: indoor_coil_dirty
means: {en: dirt fills the coil, es: la mugre llena el serpentín}
equipment: [window]
how_common: common
shows: {indoor_coil: {dirty: nearly always}}
fixes: [brush_indoor_coil]
---
fix: clean_filter
means: {en: clean the filter, es: limpie el filtro}
who: customer
steps: [{en: Slide the filter out and wash it., es: Saque el filtro y lávelo.}]
minutes: 20
touches: [filter]
verify: {after_hours: 3}
should_change: {en: The air should blow stronger., es: El aire debe salir más fuerte.}
---
fix: brush_indoor_coil
means: {en: brush the coil, es: cepille el serpentín}
who: customer
steps: [{en: Brush along the fins., es: Cepille a lo largo de las aletas.}]
minutes: 30
touches: [indoor_coil]
verify: {after_hours: 0, ask: look_at_indoor_coil, expect: [clean]}
should_change: {en: The fins should shine., es: Las aletas deben brillar.}
---
hazard: shut_in
level: danger
means: somebody is shut inside
told_of: {en: somebody shut inside, es: una persona encerrada}
first: {en: "Open the door. {call}", es: "Abra la puerta. {call}"}
never: ask first
sayings: {en: [locked in the cooler], es: [hay alguien encerrado]}
"""


def documents(text: str) -> tuple[Node, ...]:
    yaml = YAML(typ="safe", pure=True)
    yaml.version = (1, 2)
    return tuple(yaml.load_all(io.StringIO(text)))


def kind_of(node: Node) -> str:
    return str(next(iter(node)))


def with_changes(changes: Iterable[Node]) -> dict[tuple[str, str], Node]:
    """The small knowledge with keys of its nodes replaced; an id of its own begins as a copy of the first of its kind."""
    nodes = {(kind_of(node), str(node[kind_of(node)])): node for node in documents(NODES)}
    for change in changes:
        kind, id_ = kind_of(change), str(change[kind_of(change)])
        model = nodes.get((kind, id_)) or next(node for (of, _), node in nodes.items() if of == kind)
        nodes[kind, id_] = {**model, **change}
    return nodes


def write(folder: Path, changes: Iterable[Node] = ()) -> Path:
    """A folder with the small knowledge, changed; JSON is YAML, so no dumper is needed."""
    words: dict[str, dict[str, Node]] = {}
    for (kind, id_), node in with_changes(changes).items():
        if kind in WORDS:
            words.setdefault(kind, {})[id_] = {key: value for key, value in node.items() if key != kind}
        else:
            put(folder, f"{PLACE[kind]}/{id_}.yaml", json.dumps(node, ensure_ascii=False, indent=1))
    for kind, entries in words.items():
        put(folder, f"words/{WORDS[kind]}.yaml", json.dumps(entries, ensure_ascii=False, indent=1))
    return folder


def put(folder: Path, relative: str, text: str | bytes) -> Path:
    path = folder / relative
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(text.encode() if isinstance(text, str) else text)
    return path
