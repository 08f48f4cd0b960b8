"""Moves that are put together: a way of asking × who is asked for; and questions about how to do what was asked.

From memory, common usage in both languages.
"""

from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import Final

from assistant.reading.clauses import Chunk
from assistant.reading.normalise import Token, fold
from assistant.reading.said import Move
from assistant.reading.wordsets import word_set
from kb.ids import Language


def _parts(phrases: str) -> tuple[str, ...]:
    return tuple(" ".join(phrase.split()) for phrase in phrases.split("/"))


_WAYS: Final[dict[Language, tuple[str, ...]]] = {
    "en": _parts(
        "talk to / talk with / speak to / speak with / chat with / get me / get / put me through to / put me on with / put on / connect me to / "
        "connect me with / transfer me to / pass me to / want / need / give me / hand me over to / get hold of / is there"
    ),
    "es": _parts(
        "hablar con / platicar con / comunicarme con / comuníqueme con / comunícame con / páseme con / páseme a / pásame con / pásame a / "
        "pásenme con / pásenme a / póngame con / ponme con / póngame a / conécteme con / transfiérame con / transfiérame a / quiero / necesito / "
        "prefiero / ocupo / hay"
    ),
}
_PEOPLE_OF_OURS: Final[dict[Language, tuple[str, ...]]] = {
    "en": _parts(
        "person / actual person / real person / live person / human / human being / real human / actual human / live human / someone real / "
        "somebody real / agent / live agent / representative / rep / operator / customer service / supervisor / person in charge / "
        "someone in charge / somebody in charge / whoever is in charge / someone who knows / somebody who knows / real technician / actual someone"
    ),
    "es": _parts(
        "persona / persona real / persona de verdad / alguien real / alguien de verdad / gente de verdad / humano / ser humano / agente / "
        "asesor / asesora / operador / operadora / atención al cliente / encargado / encargada / responsable / supervisor / alguien que sepa / "
        "alguien de ustedes / alguien de carne y hueso / persona de carne y hueso"
    ),
}
_PLAIN_WAYS: Final[dict[Language, tuple[str, ...]]] = {
    "en": _parts(
        "let me talk to / let me speak to / let me speak with / can i talk to / can i speak to / can i speak with / could i talk to / could i speak with / "
        "i want to talk to / i need to talk to / i want to speak to / put me through to / connect me to / transfer me to / would like to talk to / "
        "would like to speak to / would like to speak with / gimme"
    ),
    "es": _parts(
        "páseme con / pásame con / páseme a / pásame a / pásenme con / comuníqueme con / comunícame con / póngame con / ponme con / quiero hablar con / "
        "necesito hablar con / puedo hablar con / podría hablar con / quisiera hablar con / me puede pasar con / me pasa con / me comunica con / "
        "déjeme hablar con / me urge hablar con"
    ),
}
_ANYBODY: Final[dict[Language, tuple[str, ...]]] = {
    "en": _parts(
        "someone / somebody / anyone / anybody / technician / tech / boss / manager / owner / guy / expert / whoever runs this / your boss / your supervisor"
    ),
    "es": _parts(
        "alguien / técnico / jefe / dueño / gerente / patrón / experto / el que sabe / quien sepa / su jefe"
    ),
}
_CALLS: Final[dict[Language, tuple[str, ...]]] = {
    "en": _parts(
        "give me a call / someone call / somebody call / can someone call / can somebody call / call me back / need a call / phone me / ring me / callback / "
        "put someone real on / put somebody real on / put a real person on / put a person on / real person on / put someone on / somebody on the phone / "
        "someone on the phone / not a robot / not a bot / stop with the robot / no more robot / no robots / "
        "send someone / send somebody / send a tech / send a technician / have someone come out / can someone come out / need someone to come out"
    ),
    "es": _parts(
        "que alguien me llame / que me llame alguien / que me hable alguien / que alguien me hable / que alguien me marque / que me marquen / que me llamen / "
        "márquenme / márqueme / márcame / llámame / háblenme por teléfono / hábleme por teléfono / me pueden marcar / me puede marcar / me marcan / "
        "me pueden hablar por teléfono / no con un robot / no con una máquina / no quiero robot / nada de robots / no a una máquina / "
        "que venga alguien / que venga un técnico / manden a alguien / mándenme a alguien / mande a alguien / que manden a alguien"
    ),
}


def composed_phrases() -> Iterator[tuple[Move, Language, str]]:
    """Every phrase that asks for a person, put together."""
    languages: tuple[Language, ...] = ("en", "es")
    for language in languages:
        for way in _WAYS[language]:
            for who in _PEOPLE_OF_OURS[language]:
                yield "person", language, f"{way} {who}"
        for way in _PLAIN_WAYS[language]:
            for who in (*_ANYBODY[language], *_PEOPLE_OF_OURS[language]):
                yield "person", language, f"{way} {who}"
        for call in _CALLS[language]:
            yield "person", language, call


_UNWANTED: Final = frozenset(
    {
        ("do", "not"), ("did", "not"), ("would", "not"), ("will", "not"), ("no", "need"), ("rather", "not"), ("not", "want"), ("never", "asked"),
        ("no", "quiero"), ("no", "necesito"), ("no", "ocupo"), ("no", "hace"), ("no", "tengo"), ("no", "es"), ("tampoco", "quiero"), ("not", "need"),
        ("no", "me"), ("no", "pedi"), ("no", "voy"), ("instead", "of"), ("en", "vez"),
    }
)  # fmt: skip
_UNWANTED_WITHIN: Final = 6


def is_unwanted(tokens: Sequence[Token], first: int) -> bool:
    """As in "I don't want to wait for a real person", "no hace falta que me llamen"."""
    start = max(0, first - _UNWANTED_WITHIN)
    words = [token.word for token in tokens[start : first + 1]]
    stops = [place for place, word in enumerate(words) if word in {".", "!", "?", ";", ","}]
    return bool(_UNWANTED & set(pairwise(words[stops[-1] + 1 if stops else 0 :])))


_OPENERS: Final = word_set(
    "and so but ok okay well uh um hmm oh y pero bueno pues oiga oye disculpe sorry e wait espere then entonces ah"
)
_HOW: Final = word_set("how")
_AFTER_HOW: Final = word_set(
    "do can am should would to many close far hard long deep high much tight big often exactly could does will i"
)
_WHICH: Final = word_set("which")
_AFTER_WHICH: Final = word_set("way side one end direction part button screw knob of wire tube")
_WHERE: Final = word_set("where")
_AFTER_WHERE: Final = word_set("is are do would should at abouts exactly on can does am")
_COMO: Final = word_set("como")
_AFTER_COMO: Final = word_set(
    "le se lo la los las hago puedo saco quito reviso mido veo checo se busco abro sabe debo tengo"
)
_CUANTO: Final = word_set("cuantos cuantas cuanto cuanta")
_AFTER_CUANTO: Final = word_set("tengo hay minutos veces puntos lugares debo espero tiempo debe jalo")
_DONDE: Final = word_set("donde adonde")
_AFTER_DONDE: Final = word_set("esta estan queda quedan lo la los las se miro busco veo pongo mido viene")
_CUAL: Final = word_set("cual cuales")
_AFTER_CUAL: Final = word_set("es de lado son tornillo boton cable")
_QUE: Final = word_set("que")
_AFTER_QUE: Final = word_set("lado tornillo boton parte cable tanto tan altura")
_LEADS: Final = (
    (_HOW, _AFTER_HOW),
    (_WHICH, _AFTER_WHICH),
    (_WHERE, _AFTER_WHERE),
    (_COMO, _AFTER_COMO),
    (_CUANTO, _AFTER_CUANTO),
    (_DONDE, _AFTER_DONDE),
    (_CUAL, _AFTER_CUAL),
    (_QUE, _AFTER_QUE),
)
_PREPOSITIONS: Final = word_set("de por a hacia en from in on for")
_SHORT: Final = 14


def asks_how(tokens: Sequence[Token], chunks: Sequence[Chunk]) -> int | None:
    """Where a reply asks how to do what was asked, for the question is about doing it; None where it does not."""
    for chunk in chunks:
        for first, last in chunk.segments:
            place = first
            while place < last and (
                tokens[place].kind == "mark"
                or tokens[place].word in _OPENERS
                or tokens[place].word in _PREPOSITIONS
            ):
                place += 1
            if place + 1 >= last or not (chunk.asks or last - place <= _SHORT):
                continue
            one, two = tokens[place].word, tokens[place + 1].word
            accented = tokens[place].seen != fold(tokens[place].seen)
            if any(one in lead and two in follow for lead, follow in _LEADS) and (
                chunk.asks or accented or one in _HOW | _WHICH | _WHERE or place == first == chunk.first
            ):
                return place
    return None
