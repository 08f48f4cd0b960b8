"""What we say to an address outside any case: about our texts themselves, and which room a number is of."""

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final, Literal

from kb.ids import Language

ThreadSentence = Literal["stopped", "started", "help", "which_room", "which_room_again", "answer_not_stop",
    "too_many", "too_long", "elsewhere", "no_more_today", "taken_along", "code_wrong", "code_for_page", "agreed",
]  # fmt: skip

SENTENCES: Final[Mapping[ThreadSentence, Mapping[Language, str]]] = MappingProxyType(
    {
        "stopped": {
            "en": "{desk}: no more texts will come from us. To get them again, write START.",
            "es": "{desk}: ya no recibirá más mensajes nuestros. Si los quiere otra vez, escriba INICIAR.",
        },
        "started": {
            "en": "{desk}: texts about your cold room are on again. Frequency varies, message and data rates may "
            "apply. HELP for help, STOP to end.",
            "es": "{desk}: otra vez le llegan mensajes sobre su cuarto frío. La frecuencia varía y su compañía puede "
            "cobrarlos. AYUDA para ayuda, ALTO para no recibir más.",
        },
        "help": {
            "en": "{desk}: help with a cold room that does not hold. A person: {contact}. In danger call your "
            "emergency number. STOP ends these texts. Message and data rates may apply.",
            "es": "{desk}: ayuda si su cuarto frío no enfría. Una persona: {contact}. En peligro llame a "
            "emergencias. ALTO para no recibir mensajes. Su compañía puede cobrarlos.",
        },
        "which_room": {
            "en": "{number}: for which room? {rooms}",
            "es": "{number}: ¿de qué cuarto? {rooms}",
        },
        "which_room_again": {
            "en": "Please send the number in front of the room. {rooms}",
            "es": "Mande el número que está delante del cuarto. {rooms}",
        },
        "agreed": {
            "en": "{desk}: texts about your cold room. Frequency varies, message and data rates may apply. HELP for "
            "help, STOP to end.",
            "es": "{desk}: mensajes sobre su cuarto frío. La frecuencia varía y su compañía puede cobrarlos. AYUDA para "
            "ayuda, ALTO para no recibir más.",
        },
        "taken_along": {
            "en": "{desk}: your case goes on here, and I text you at the hours that we agree on. Message and data rates "
            "may apply. HELP for help, STOP to end. {question}",
            "es": "{desk}: su caso sigue aquí y le escribo a las horas que acordemos. Su compañía puede cobrar los "
            "mensajes. AYUDA para ayuda, ALTO para no recibir más. {question}",
        },
        "code_wrong": {
            "en": "That code is wrong or no longer good. The page gives a new one.",
            "es": "Ese código no es correcto o ya no vale. La página le da otro.",
        },
        "code_for_page": {
            "en": "To go on at a page: open {page} and write the code {code} there. It is good once, for ten minutes.",
            "es": "Para seguir en una página: abra {page} y escriba ahí el código {code}. Vale una vez, por diez minutos.",
        },
        "too_many": {
            "en": "That is more texts than I can read at once. This one I did not read; write again in 15 minutes. "
            "A person: {contact}. In danger call your emergency number.",
            "es": "Son más mensajes de los que puedo leer a la vez. Este no lo leí; escriba otra vez en 15 minutos. "
            "Una persona: {contact}. En peligro llame a emergencias.",
        },
        "too_long": {
            "en": "That text was too long and I did not read it. Send it again in parts of a few lines.",
            "es": "Ese mensaje era demasiado largo y no lo leí. Mándelo otra vez en partes de pocas líneas.",
        },
        "elsewhere": {
            "en": "{desk}: we cannot text to numbers in your country. A person: {contact}.",
            "es": "{desk}: no podemos mandar mensajes a números de su país. Una persona: {contact}.",
        },
        "no_more_today": {
            "en": "{desk}: I cannot send you more texts today; our desk knows of your case. A person: {contact}. "
            "In danger call your emergency number.",
            "es": "{desk}: hoy ya no le puedo mandar más mensajes; nuestro equipo sabe de su caso. Una persona: "
            "{contact}. En peligro llame a emergencias.",
        },
        "answer_not_stop": {
            "en": "I took that as your answer. To get no more texts, write STOP.",
            "es": "Lo tomé como su respuesta. Si no quiere más mensajes, escriba STOP.",
        },
    }
)
"""A stop, start or help text names the sender, what happens and the way back (47 CFR 64.1200(a)(12); CTIA 5.1)."""


def in_words(sentence: ThreadSentence, language: Language, **values: str) -> str:
    """The sentence with its values.

    >>> in_words("which_room", "en", number="49", rooms="1 barn, 2 shop")
    '49: for which room? 1 barn, 2 shop'
    """
    return SENTENCES[sentence][language].format(**values)
