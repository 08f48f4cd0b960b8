"""Phrases that ask for no more texts, put together from ways of stopping and what is to stop; house list.

The rule asks what a reasonable person would understand as a wish for no more texts (47 CFR 64.1200(a)(10)). A wish for
other texts ("do not text me in English", "no me escriba antes de las 7") is none.
"""

from itertools import product
from typing import Final


def _words(phrases: str) -> tuple[str, ...]:
    return tuple(phrase.strip() for phrase in phrases.split("/"))


_TOGETHER: Final = (
    (
        "sick of / tired of / done with / enough with / enough of / cancel / end / discontinue / quit it with / stop it with / stop with",
        "these texts / these messages / your texts / your messages / the texts / the messages / getting texts / getting messages / all these texts / all these messages / my texts / my messages / texts / messages / text messages / my subscription / subscription",
    ),
    (
        "stop / quit / cease / please stop / stop with",
        (
            "texting / messaging / sending me / contacting me / sending texts / sending messages / writing me / writing to me / bugging me / "
            "bothering me / spamming me / pestering me / these texts / these messages / all texts / all messages / the texts / the messages / "
            "your texts / your messages / texts / messages / these notifications / these alerts / these reminders"
        ),
    ),
    (
        (
            "no more / not any more / dont send any more / do not send any more / dont send me any more / do not send me any more / dont want any more / "
            "do not want any more / dont want / do not want / no longer want / no longer wish to receive / no longer want to receive / no longer want to get / do not want to get / do not want to receive / dont want to get / dont want to receive / do not wish to receive / "
            "dont need / never send me / dont send me / do not send me"
        ),
        (
            "texts / messages / text messages / sms / of these texts / of these messages / these texts / these messages / your texts / your messages / "
            "any texts / any messages / more texts / more messages"
        ),
    ),
    (
        "dont / do not / never / dont ever / please dont / would you not",
        "text me / message me / contact me / write me / text this number / text me anymore / message me anymore / contact me anymore / bother me",
    ),
    (
        "take / get / remove / delete / erase / lose / forget",
        "me off your list / me off this list / me off the list / me from your list / me from this list / me from the list / my number / this number / my phone number",
    ),
    (
        "dejen de / deje de / deja de / dejenme de / dejeme de / dejen ya de / deje ya de / paren de / paren ya de / pare de / pare ya de / para ya de / para de / parele de / parenle de / no quiero que me / ya no quiero que / no me vuelva a / no me vuelvan a / no me vuelvas a / ya no me vuelva a / no vuelva a / no vuelvan a / ya no quiero que me / parenle con los / ya parenle con los / parele con los / basta de / ya basta de / hartos de / harto de / harta de",
        (
            "escribir / escribirme / escribiendome / mandar mensajes / mandarme mensajes / mandar textos / mandarme textos / mandar / mandarme / enviar mensajes / "
            "enviarme mensajes / enviar / enviarme / textear / textearme / textee / texteen / escriba / escribas / mande / mandes / mande mensajes / manden mensajes / envien mensajes / molestar / molestarme / escriban / manden / estar molestando / estar escribiendo / estar mandando mensajes / estar mandando / mensajes / sus mensajes / tantos mensajes / textos"
        ),
    ),
    (
        (
            "no quiero / ya no quiero / no quiero mas / ya no quiero mas / no quiero recibir / ya no quiero recibir / no deseo / no deseo recibir / no mas / ya no mas / "
            "no me manden / no me mande / no me mandes / ya no me manden / ya no me mande / ya no me mandes / no me envien / no me envie / no me envies / "
            "no manden / no mande / ya no manden / ya no mande / no me interesa recibir"
        ),
        "mensajes / mas mensajes / sus mensajes / estos mensajes / textos / mas textos / sus textos / sms / mensajitos",
    ),
    (
        "no / ya no / por favor no / porfa no / nunca",
        "me escriban / me escriba / me escribas / me texteen / me textee / me textees / me molesten / me moleste / me contacten / me contacte / me manden nada / me mande nada",
    ),
    (
        "quiten / quite / quita / borren / borre / borra / eliminen / elimine / elimina / saquen / saque / saca",
        "mi numero / este numero / mi telefono",
    ),
    (
        "quitenme / quiteme / quitame / saquenme / saqueme / sacame / borrenme / borreme / borrame / eliminenme / elimineme",
        "de la lista / de su lista / de esta lista / de tu lista / de sus mensajes / de los mensajes",
    ),
)

_WHOLE: Final = _words(
    "unsubscribe me / want to opt out / like to opt out / wish to opt out / opting out of these / ya no escriban / ya no escriba / ya no escribas / ya no me escriban nada / parar mensajes / parar los mensajes / detener mensajes / detener los mensajes / opt me out / opting out / i opt out / i want to unsubscribe / how do i unsubscribe / leave me alone / take me off / remove me / sign me off / "
    "block this number / i withdraw my consent / i revoke my consent / revoke consent / denme de baja / deme de baja / dame de baja / darme de baja / quiero darme de baja / "
    "dejenme en paz / dejeme en paz / dejame en paz / cancelen los mensajes / cancele los mensajes / cancelar mensajes / cancelar los mensajes / retiro mi consentimiento"
)

SAID_ANYWHERE: Final = frozenset(
    tuple(f"{way} {what}".split())
    for ways, whats in _TOGETHER
    for way, what in product(_words(ways), _words(whats))
) | frozenset(tuple(phrase.split()) for phrase in _WHOLE)
"""Sequences of words that are a wish for no more texts wherever they stand, but where a limit follows."""

LONGEST: Final = max(map(len, SAID_ANYWHERE))

LIMITS: Final = frozenset(
    _words(
        "in / before / after / until / till / at / so / while / yet / unless / about / when / because / early / late / during / on / with / from / "
        "between / off / en / antes / despues / hasta / de / tan / todavia / cuando / mientras / porque / por / a / sobre / tarde / temprano / tantas / tantos"
    )
)
"""What follows makes it a wish for other texts: in another language, at another hour, about something else."""
_STILL_ALL: Final = frozenset(
    {
        ("at", "all"),
        ("from", "you"),
        ("from", "u"),
        ("from", "this"),
        ("de", "ustedes"),
        ("de", "usted"),
        ("de", "nuevo"),
        ("a", "mi"),
        ("a", "este"),
        ("on", "this"),
        ("en", "absoluto"),
        ("por", "favor"),
        ("por", "fa"),
    }
)


def has_limit(after: tuple[str, ...]) -> bool:
    """Whether the words after a phrase narrow it."""
    if after[:1] in (("me",), ("us",)):
        after = after[1:]
    return bool(after) and after[0] in LIMITS and after[:2] not in _STILL_ALL
