"""Where a reply says that it cannot answer: somebody who cannot look, or who does not know.

A disclaimer stands in one statement. It settles the reply, unless what stands beside it describes an option and a word
joins the two ("no idea, but it looks dusty"), or its words are part of an option ("can't see the fins").
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final, Literal

from assistant.reading.clauses import Chunk
from assistant.reading.normalise import Token, words_of
from assistant.reading.wordsets import word_set

_SEES: Final = word_set(
    "see get reach read find open look check do go touch take move climb lift hear feel measure test remove pull come "
    "make unplug stay wait leave"
)
_SAYS: Final = word_set("say tell know remember")
_LOOKS_ES: Final = word_set(
    "ver leer abrir llegar subir entrar tocar medir revisar checar mirar sacar quitar mover alcanzar oir escuchar ir "
    "hacerlo verlo verla revisarlo medirlo abrirlo sacarlo hacer desconectar"
)
_NOT_MINE: Final = word_set("it she they he this that")
_JOINS: Final = word_set(
    "but though think guess maybe looks looked seems seemed probably say pero aunque creo parece quiza quizas veo pienso "
    "supongo ve diria"
)
_FEW: Final = 3
_CANNOT: Final = tuple(
    words_of(phrase)
    for phrase in """not allowed/not able/unable to/no way to/not going to/do not want to/will not let me/would not let me/have not got a/
have not got any/have not got the/do not have a/do not have any/do not have the/do not own/have no/got no/no paper/no thermometer/
no flashlight/no ladder/no tape/no tools/no meter/no light to/am not there/am not here/not at the/am away/not near/not home/nobody there/
too high/too heavy/too far/too dark/too loud/too tight/too cramped/locked up/is locked/on a ladder/not on site/off site/
no me dejan/no me deja/no alcanzo/no hay como/no hay modo/no hay manera/no tengo con que/no tengo termometro/no tengo papel/no tengo
lampara/no tengo escalera/no tengo cinta/no tengo llave/no traigo/no cuento con/no estoy/ando lejos/ando fuera/esta muy alto/esta muy
oscuro/no se alcanza/no se oye bien/no se ve bien/no oigo bien/no veo bien/no distingo/no leo/esta con llave/no me atrevo/me da miedo/
no voy a/no quiero""".replace("\n", " ").split("/")
)
_UNSURE: Final = tuple(
    words_of(phrase)
    for phrase in """no idea/not a clue/no clue/not a notion/no notion/not the foggiest/have not looked/did not look/did not check/have not
checked/never looked/never checked/never noticed/did not notice/beats me/who knows/search me/could be anything/do not know/
ni idea/no sabria/no le se/no se decir/no sabria decir/no me fije/no me he fijado/no lo he visto/no he visto/no vi/no revise/no he
revisado/no cheque/quien sabe/sepa/sabe dios/no tengo idea/ni la menor idea/no sabemos""".replace(
        "\n", " "
    ).split("/")
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Disclaimer:
    """Words `[first, last)` that say so, in the statement `[opens, closes)`."""

    kind: Literal["unsure", "cannot"]
    first: int
    last: int
    opens: int
    closes: int


def disclaimer_in(tokens: Sequence[Token], chunks: Sequence[Chunk]) -> Disclaimer | None:
    """The first disclaimer of a reply; None where it has none."""
    for chunk in chunks:
        for opens, closes in chunk.segments:
            for place in range(opens, closes):
                found = _at(tokens, place, closes)
                if found is not None:
                    kind, last = found
                    return Disclaimer(kind=kind, first=place, last=last, opens=opens, closes=closes)
    return None


def _at(tokens: Sequence[Token], place: int, closes: int) -> tuple[Literal["unsure", "cannot"], int] | None:
    words = [token.word for token in tokens[place:closes]]
    for phrases, kind in ((_UNSURE, "unsure"), (_CANNOT, "cannot")):
        for phrase in phrases:
            if tuple(words[: len(phrase)]) == phrase and not _is_reflexive(words, phrase):
                return ("unsure" if kind == "unsure" else "cannot"), place + len(phrase)
    before = tokens[place - 1].word if place else ""
    if words[:2] in (["can", "not"], ["could", "not"]) and before not in _NOT_MINE:
        return _unable(words[2:], place + 2)
    if words[:2] == ["no", "puedo"] or words[:3] == ["no", "se", "puede"]:
        at = 2 if words[1] == "puedo" else _FEW
        if len(words) == at or words[at] in _LOOKS_ES:
            return "cannot", place + at
    return None


def _unable(rest: Sequence[str], last: int) -> tuple[Literal["unsure", "cannot"], int] | None:
    """As in "can't", "can't really see", "couldn't tell"."""
    if not rest:
        return "cannot", last
    for at, word in enumerate(rest[:2]):
        if word in _SAYS:
            return "unsure", last + at + 1
        if word in _SEES:
            return "cannot", last + at + 1
    return None


def _is_reflexive(words: Sequence[str], phrase: Sequence[str]) -> bool:
    """As in "sepa" only where it stands for itself ("¡sepa!"), not in "que sepa": told by its place, the first one."""
    return phrase == ("sepa",) and len(words) > 1 and words[1] not in {"la", ","}


def settles(tokens: Sequence[Token], disclaimer: Disclaimer) -> bool:
    """Nothing beside the disclaimer takes it back: no "but", no "I think", and more than a word or two follow."""
    after = [token.word for token in tokens[disclaimer.last :] if token.kind != "mark"]
    return not _JOINS.intersection(after) and (not after or len(after) > _FEW)
