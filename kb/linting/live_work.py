"""`live-work`: a step that sends a customer into a sealed circuit or a live panel.

Warnings against it are welcome: neither a caution nor a sentence that forbids ("Never open the cover.") is looked at.

passes:
    fix: clean_filter
    steps: [{en: Never open the electrical box., es: Nunca abra la caja eléctrica.}]
fails:
    fix: clean_filter
    steps: [{en: Open the electrical box., es: Abra la caja eléctrica.}]
"""

from collections.abc import Iterator
from types import MappingProxyType
from typing import Final

from kb.ids import Language
from kb.knowledge import Knowledge
from kb.linting.rule import Rule
from kb.linting.texts import texts
from kb.linting.words import heard, sentences
from kb.problems import Problem
from kb.shelf import Shelf

FORBIDDEN: Final = MappingProxyType[Language, tuple[str, ...]](
    {
        "en": (
            "electrical box", "control box cover", "capacitor", "contactor", "relay terminal", "terminal block", "wire nut", "bare wire",
            "jumper", "bypass", "hot wire", "open the panel", "panel cover", "remove the cover", "take the cover off", "multimeter",
            "volt meter", "voltmeter", "service valve", "service port", "gauge set", "manifold", "schrader", "refrigerant line", "add gas",
            "add refrigerant", "recharge", "top up the gas", "vent the gas", "braze", "solder", "cut the thermistor", "short the",
        ),
        "es": (
            "caja electrica", "tapa del control", "capacitor", "condensador de arranque", "contactor", "terminales", "bornera", "cable pelado",
            "puentee", "puentear", "abra el tablero", "abra la tapa", "quite la tapa", "multimetro", "voltimetro", "valvula de servicio",
            "manometro", "linea de gas", "linea de refrigerante", "eche gas", "ponga gas", "agregue gas", "cargue gas", "recargue",
            "purgue el gas", "suelde", "soldar", "corte el termistor",
        ),
    }
)  # fmt: skip
"""What only the licensed trades touch, as heard; ours (common practice, no source)."""
FORBIDS: Final = MappingProxyType[Language, tuple[str, ...]](
    {
        "en": ("not", "never", "don't", "no", "nobody", "only a", "leave"),
        "es": ("no", "nunca", "nadie", "jamas", "solo un", "deje"),
    }
)
"""What makes a sentence a warning."""


def search(shelf: Shelf, knowledge: Knowledge) -> Iterator[Problem]:
    """Sentences of steps, of questions and of how to answer them that order such work."""
    for written in texts(shelf):
        if not _tells_to_do(written.kind, written.at):
            continue
        for language, words in FORBIDDEN.items():
            for sentence in sentences(written.text.in_(language)):
                said = f" {heard(sentence)} "
                found = next((word for word in words if word in said), None)
                if found and not any(f" {word} " in said for word in FORBIDS[language]):
                    yield written.problem(
                        shelf,
                        language,
                        what=f"the text sends a customer to work that can kill: “{found}”",
                        why="capacitors hold their charge, and sealed circuits their pressure, with the plug out",
                        mend="hand it over: `who: electrician` or `refrigeration trade`, and steps that keep people away from it",
                        rule=RULE.name,
                    )


def _tells_to_do(kind: str, at: tuple[str | int, ...]) -> bool:
    return (kind == "fix" and at[0] == "steps" and at[-1] != "caution") or (
        kind == "check" and at[0] in {"ask", "again", "how"}
    )


RULE = Rule("live-work", search)
