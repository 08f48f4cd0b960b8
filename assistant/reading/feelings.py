"""How somebody is who writes: at the end of their tether, sorry to trouble us, or grateful. One kind word answers it.

From memory, common usage in both languages.
"""

from typing import Final, Literal

from assistant.reading.normalise import words_of

Feeling = Literal["upset", "sorry", "thanks"]

_PHRASES: Final[dict[Feeling, str]] = {
    "upset": """losing everything / lose everything / lost everything / losing it all / lose it all / losing my mind / lose my whole / lose the whole /
gonna lose / going to lose / fed up / sick of this / sick and tired / had it with / third day / fourth day / fifth day / third time this / days of this / weeks of
this / at my wits / wits end / end of my rope / about to cry / am crying / in tears / can not take / can not afford / can not do this / am desperate / desperate / am
exhausted / worn out / so tired / dead tired / have not slept / did not sleep / up all night / been up since / this is ridiculous / this is a nightmare / nightmare /
so frustrated / so frustrating / frustrated / pissed / panicking / freaking out / please hurry / going to ruin / whole harvest / driving me crazy / ready to give up / worried sick / am worried / so worried / stressed /
pierdo todo / perdiendo todo / perder todo / perdi todo / voy a perder / vamos a perder / se me va a perder / se me pierde / se me echa a perder / estoy desesperado /
estoy desesperada / desesperado / desesperada / estoy harto / estoy harta / ya me harte / muy cansado / muy cansada / tan cansado / tan cansada / no he dormido / no
dormi / sin dormir / toda la noche / ya no aguanto / no aguanto mas / tercer dia / cuarto dia / tercera vez / dias asi / dias con esto / dias batallando / que coraje / esto es una pesadilla / no puede
ser / estoy preocupado / estoy preocupada / muy preocupado / muy preocupada / que angustia / estoy llorando / por favor apurese / toda mi cosecha / toda la cosecha / me urge / ya no se que hacer""",
    "sorry": """sorry to bother / sorry to trouble / sorry for bothering / sorry to ask / hate to bother / hope this is okay / sorry for the trouble / sorry for the
questions / sorry for all / sorry i am slow / sorry for being / sorry if this / sorry about the late / sorry it is so late / sorry its late / dumb question / stupid
question / silly question / disculpe la molestia / disculpe las molestias / disculpe que moleste / disculpe que lo moleste / disculpe que la moleste / perdone la
molestia / perdone que moleste / perdon por molestar / perdon por la hora / disculpe la hora / pena molestar / pena molestarlo / no quiero molestar / disculpe la pregunta / perdon por tanta""",
    "thanks": """thanks so much / thank you so much / many thanks / thanks a lot / thanks a million / really appreciate / appreciate it / appreciate your / appreciate the / bless you / god
bless / you are a lifesaver / life saver / muchas gracias / mil gracias / muchisimas gracias / se lo agradezco / le agradezco / dios lo bendiga / dios la bendiga /
que amable / muy amable""",
}
_KNOWN: Final = {
    feeling: tuple(words_of(phrase) for phrase in phrases.split("/")) for feeling, phrases in _PHRASES.items()
}


def feeling_in(text: str) -> Feeling | None:
    """The feeling that the words tell of, the heaviest first; None for most texts.

    >>> feeling_in("3rd night, I'm losing everything!!"), feeling_in("sorry to bother you"), feeling_in("52 in there")
    ('upset', 'sorry', None)
    """
    words = words_of(text)
    for feeling, phrases in _KNOWN.items():
        if any(_stands_in(words, phrase) for phrase in phrases):
            return feeling
    return None


def _stands_in(words: tuple[str, ...], phrase: tuple[str, ...]) -> bool:
    size = len(phrase)
    return any(words[first : first + size] == phrase for first in range(len(words) - size + 1))
