"""From a text to its words: folded for matching, each with its place in the text as sent.

Case and accents fold away, curly marks become straight ones, contractions come apart ("isn't" → "is not").
Nothing here knows cold rooms.
"""

import re
import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Final, Literal

LONGEST_TEXT: Final = 10_000
"""Code points that are read; what comes after is left unread."""

Kind = Literal["word", "number", "mark", "nod"]

_FOLDS: Final = {
    "º": "°", "˚": "°", "’": "'", "‘": "'", "´": "'", "`": "'", "ʼ": "'", "“": '"', "”": '"', "″": '"', "′": "'",
    "–": "-", "—": "-", "−": "-", "½": " 1/2", "¼": " 1/4", "¾": " 3/4", "×": "x", "…": ".", "\n": "\n",
    "👍": "\x01", "👌": "\x01", "✅": "\x01", "✔": "\x01", "☑": "\x01",
}  # fmt: skip
_PIECE: Final = re.compile(
    r"\d+(?:[.,:/]\d+)*|\b[acw]/[co]?(?![^\W_])|[^\W\d_]+(?:'[^\W\d_]+)*|\x01|\n|[^\w\s]"
)
_HYPHEN: Final = "-"
_WHOLE: Final = {
    "won't": ("will", "not"), "wont": ("will", "not"), "can't": ("can", "not"), "cant": ("can", "not"),
    "cannot": ("can", "not"), "ain't": ("is", "not"), "aint": ("is", "not"), "shan't": ("will", "not"),
    "isnt": ("is", "not"), "arent": ("are", "not"), "wasnt": ("was", "not"), "werent": ("were", "not"),
    "dont": ("do", "not"), "doesnt": ("does", "not"), "dosent": ("does", "not"), "doesent": ("does", "not"),
    "dosnt": ("does", "not"), "didnt": ("did", "not"), "hasnt": ("has", "not"), "havent": ("have", "not"),
    "hadnt": ("had", "not"), "couldnt": ("could", "not"), "wouldnt": ("would", "not"),
    "shouldnt": ("should", "not"), "its": ("it", "is"), "im": ("i", "am"), "ive": ("i", "have"),
    "theres": ("there", "is"), "whats": ("what", "is"), "thats": ("that", "is"), "gonna": ("going", "to"),
    "wanna": ("want", "to"), "gotta": ("got", "to"), "dunno": ("do", "not", "know"),
    "idk": ("do", "not", "know"), "nto": ("not",), "teh": ("the",), "hte": ("the",), "u": ("you",),
    "ur": ("your",), "pls": ("please",), "plz": ("please",), "rn": ("right", "now"), "q": ("que",),
    "xq": ("porque",), "pq": ("porque",), "porq": ("porque",), "tmb": ("tambien",), "tb": ("tambien",),
    "pa": ("para",), "ta": ("esta",), "toy": ("estoy",), "stá": ("esta",), "sta": ("esta",), "aki": ("aqui",),
    "nose": ("no", "se"), "thru": ("through",), "tho": ("though",),
    "w/o": ("without",), "w/": ("with",), "a/c": ("ac",), "c/": ("con",), "cuz": ("because",), "bc": ("because",), "outta": ("out", "of"),
}  # fmt: skip
_COMPOUNDS: Final = {
    ("nada", "mas"): "nomas",
    ("sin", "querer"): "sinquerer",
    ("sin", "duda"): "seguramente",
    ("dry", "ice"): "dryice",
    ("hielo", "seco"): "hieloseco",
}
"""*Nada más* is only, not nothing; dry ice is no ice."""
_DOUBLED: Final = 4
_ABBREVIATED: Final = frozenset({"in", "ft", "lb", "lbs", "deg", "hr", "hrs", "min", "pulg", "mts"})
_TAILS: Final = {"s": "is", "re": "are", "ve": "have", "ll": "will", "d": "would", "m": "am"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Token:
    """One word, number or mark; `[start, end)` in code points of the text as sent."""

    word: str
    """Folded: what is matched."""
    seen: str
    """As written, in lower case, accents kept."""
    start: int
    end: int
    kind: Kind = "word"
    doubt: float = 0.0
    """How much a spelling repair took from our trust in it, 0 to 1."""


def tokens_of(text: str) -> tuple[Token, ...]:
    """The words, numbers and marks of `text`, in order; never fails, whatever the text.

    >>> [token.word for token in tokens_of("Fan isn’t TURNING… está a 12.5°")]
    ['fan', 'is', 'not', 'turning', '.', 'esta', 'a', '12.5', '°']
    """
    folded, places = _fold(text[:LONGEST_TEXT])
    return tuple(_compounded(_pieces(text, folded, places)))


def fold(word: str) -> str:
    """A word without case and accents.

    >>> fold("Serpentín")
    'serpentin'
    """
    return "".join(_fold_one(letter) for letter in word)


def words_of(phrase: str) -> tuple[str, ...]:
    """The folded words and numbers of a phrase, marks left out.

    >>> words_of("can't see through it")
    ('can', 'not', 'see', 'through', 'it')
    """
    return tuple(token.word for token in tokens_of(phrase) if token.kind in {"word", "number"})


def _fold(text: str) -> tuple[str, list[int]]:
    letters: list[str] = []
    places: list[int] = []
    for place, letter in enumerate(text):
        for folded in _fold_one(letter):
            letters.append(folded)
            places.append(place)
    return "".join(letters), places


@lru_cache(maxsize=4096)
def _fold_one(letter: str) -> str:
    if letter in _FOLDS:
        return _FOLDS[letter]
    if letter.isascii():
        return letter.lower() if letter.isprintable() else " "
    kept = unicodedata.normalize("NFKD", letter.casefold())
    return "".join(_plain(part) for part in kept)


def _plain(letter: str) -> str:
    category = unicodedata.category(letter)
    if category in {"Mn", "Me", "Cf"}:
        return ""
    if category[0] == "C" or category in {"So", "Sk"}:
        return "°" if letter == "°" else " "
    return letter.lower()


def _pieces(text: str, folded: str, places: list[int]) -> Iterator[Token]:
    after_number, number, unit = -1, False, False
    for piece in _PIECE.finditer(folded):
        start, end = places[piece.start()], places[piece.end() - 1] + 1
        word, seen = piece.group(), text[start:end].lower()
        if word == _HYPHEN and _joins(folded, piece.start()):
            continue
        if word == "." and unit and _goes_on(text, end):
            continue
        unit = word in _ABBREVIATED and number
        number = word[0].isdecimal()
        if word == "\x01":
            yield Token(word="yes", seen=seen, start=start, end=end, kind="nod")
        elif word[0].isdecimal():
            after_number = end
            yield Token(word=word, seen=seen, start=start, end=end, kind="number")
        elif not word[0].isalpha():
            yield Token(word=word, seen=seen, start=start, end=end, kind="mark")
        else:
            parts = (word,) if start == after_number else _apart(word)
            for part in parts:
                yield Token(word=part, seen=seen, start=start, end=end)


def _goes_on(text: str, end: int) -> bool:
    """A stop after a shortened unit ends no sentence where a small letter follows: "4 in. foam"."""
    rest = text[end : end + 2].lstrip()
    return rest[:1].islower()


def _joins(folded: str, place: int) -> bool:
    """A hyphen inside a word: "walk-in" is "walk in"."""
    around = folded[max(place - 1, 0) : place] + folded[place + 1 : place + 2]
    return len(around) == len("ab") and around.isalpha()


def _compounded(pieces: Iterator[Token]) -> Iterator[Token]:
    """Two words that mean another thing together become one, and a word said twice is said once ("frío frío")."""
    waiting: Token | None = None
    for token in pieces:
        if waiting is None:
            waiting = token
            continue
        together = _COMPOUNDS.get((waiting.word, token.word))
        if together is not None:
            waiting = replace(waiting, word=together, end=token.end)
        elif waiting.word == token.word and token.kind == "word" and len(token.word) >= _DOUBLED:
            waiting = replace(waiting, end=token.end)
        else:
            yield waiting
            waiting = token
    if waiting is not None:
        yield waiting


def _apart(word: str) -> tuple[str, ...]:
    if word in _WHOLE:
        return _WHOLE[word]
    if word.endswith("n't"):
        return (word[:-3], "not")
    if word.startswith("pa'"):
        return ("para", word.removeprefix("pa'"))
    base, mark, tail = word.rpartition("'")
    if mark and tail in _TAILS:
        return (base, _TAILS[tail])
    return (word.replace("'", ""),)
