"""Words that stop, start or explain our texts, told apart from the same words about a room.

Decided before anything is read. The seven words of 47 CFR 64.1200(a)(10) stop texts whatever was asked: a carrier
blocks us on them in any case, so they can be no answer. Every other word that answers the open question is its answer.
"""

from typing import Final, Literal

from assistant.thread.stop_phrases import LONGEST, SAID_ANYWHERE, has_limit
from assistant.thread.tidying import plain
from kb.ids import Language

ServiceWord = Literal["stop", "start", "help"]

DEFINITIVE: Final = frozenset(
    {
        "stop",
        "stopall",
        "stop all",
        "quit",
        "end",
        "revoke",
        "cancel",
        "unsubscribe",
        "optout",
        "opt out",
        "opt-out",
    }
)
"""47 CFR 64.1200(a)(10), FR Doc 2024-04587, with the spellings that carriers act on."""

STOP_ES: Final = frozenset({"alto", "parar", "pare", "baja", "cancelar", "detener", "terminar", "no mas"})
"""House list, common practice, no source; each also answers questions about a room."""

START: Final = {"start": "en", "unstop": "en", "iniciar": "es", "alta": "es"}
START_AGAIN: Final = {"yes": "en", "si": "es"}
"""Only from somebody who opted out."""

HELP: Final = {"help": "en", "info": "en", "ayuda": "es"}

PLEASE: Final = frozenset({"please", "pls", "por favor", "gracias", "thanks", "thank you"})

SAID_ALONE: Final = frozenset(
    {
        "stop it", "discontinue", "basta", "ya basta", "dar de baja", "desuscribir", "desuscribirme", "cancelar suscripcion",
        "youve got the wrong number", "you got the wrong number",
        "wrong number", "you have the wrong number", "this is the wrong number", "sorry wrong number",
        "numero equivocado", "se equivoco de numero", "tiene el numero equivocado", "es un numero equivocado",
    }
)  # fmt: skip
"""Inside a longer message these may be about a thermometer, or an alarm."""

NOT: Final = frozenset({"dont", "not", "never"})


def service_word(text: str, *, opted_out: bool, answers: bool, in_danger: bool = False) -> ServiceWord | None:
    """What the message asks of our texts, or None where it is about the room.

    `answers`: it fits the question that is open. `in_danger`: a cry for help goes to the case, not to an information text.

    >>> service_word("BAJA", opted_out=False, answers=True), service_word("baja", opted_out=False, answers=False)
    (None, 'stop')
    >>> service_word("the fan stops after 5 min", opted_out=False, answers=False) is None
    True
    """
    said = _without_please(plain(text))
    if said in DEFINITIVE:
        return "stop"
    if answers:
        return None
    if said in STOP_ES or plain(text) in SAID_ALONE or _says_no_more(said.split()):
        return "stop"
    if said in START or (opted_out and said in START_AGAIN):
        return "start"
    return "help" if said in HELP and not in_danger else None


def may_be_service_word(text: str) -> bool:
    """The message would ask something of our texts, were no question open: only then is it worth looking for one."""
    return service_word(text, opted_out=True, answers=False) is not None


def is_cry_for_help(text: str) -> bool:
    """A bare *help* or *ayuda*: in or after a danger it is no request for information."""
    return _without_please(plain(text)) in {"help", "ayuda", "help me", "ayudeme", "auxilio", "socorro"}


def language_of_word(text: str, otherwise: Language) -> Language:
    """The language that such a word is in.

    >>> language_of_word("ALTO", "en"), language_of_word("STOP", "es")
    ('es', 'es')
    """
    said = _without_please(plain(text))
    if said in STOP_ES or said in {"ayuda", "iniciar", "alta"}:
        return "es"
    return "en" if said in {"help", "start", "unstop", "unsubscribe", "opt out"} else otherwise


def _without_please(said: str) -> str:
    for polite in sorted(PLEASE, key=len, reverse=True):
        said = said.removeprefix(f"{polite} ").removesuffix(f" {polite}")
    return said


def _says_no_more(words: list[str]) -> bool:
    """One of the phrases stands in the message, nobody asks us *not* to stop, and nothing narrows it."""
    for at in range(len(words)):
        if at and words[at - 1] in NOT:
            continue
        for length in range(LONGEST, 1, -1):
            phrase = tuple(words[at : at + length])
            if phrase in SAID_ANYWHERE:
                if not has_limit(tuple(words[at + length : at + length + 3])):
                    return True
                break  # a shorter phrase within it would not see the limit
    return False
