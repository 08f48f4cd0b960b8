"""What a text asks of the conversation itself: why, how, skip, a person, the other language.

A *clear* phrase counts wherever it stands; a phrase that is an ordinary one too counts only when it is all there is.
"""

from collections.abc import Iterable, Mapping, Sequence
from typing import Final

from assistant.reading.clauses import Chunk
from assistant.reading.lone_phrases import ALONE
from assistant.reading.matching import DETERMINERS, LIGHT, Match, PhraseBook
from assistant.reading.move_phrases import CLEAR
from assistant.reading.move_shapes import asks_how, composed_phrases, is_unwanted
from assistant.reading.normalise import Token, words_of
from assistant.reading.said import Move
from assistant.reading.senses import Sense, SenseKind
from assistant.reading.wordsets import word_set
from kb.ids import Language

_FILLER: Final = word_set(
    "please por favor ok okay well pues bueno so um uh eh oh ah hmm mmm señor senor sir jefe amigo just right now ahorita "
    "let us vamos a me i yo it lo la y and then but pero sorry perdon disculpe honestly really thanks gracias man yeah "
    "hey oiga hola this esa esta question pregunta one to the for you"
)
_LEAST, _LEAST_OF_ONE = 0.88, 0.97
_LONGEST: Final = 24
"""Tokens of a text that may be a move and nothing else."""
_MOST_WORDS: Final = 6
_AT_THE_END: Final = frozenset({"skip", "pause"})
_AT_THE_START: Final = frozenset({"cannot", "unsure"})
_OF_ONE_WORD: Final = frozenset({"done"})
"""As in "done, it's 47 now": what follows tells more."""
_AFTER_NO_SE: Final = word_set(
    "ni si que cual cuanto cuantos donde como bien nada la pero y jefe porque cuando quien"
)


def add_moves(book: PhraseBook[Sense]) -> None:
    """Put the moves' phrases into the book."""
    for table, kind in _TABLES:
        for move, languages in table.items():
            for language, phrases in languages.items():
                for phrase in phrases.split("/"):
                    book.add(words_of(phrase), Sense(kind, move, "", language))
    for move, language, phrase in composed_phrases():
        book.add(words_of(phrase), Sense("move", move, "", language))


_TABLES: Final[tuple[tuple[Mapping[Move, Mapping[Language, str]], SenseKind], ...]] = (
    (CLEAR, "move"),
    (ALONE, "move_alone"),
)


def _all_words() -> Iterable[str]:
    for table, _ in _TABLES:
        for languages in table.values():
            for phrases in languages.values():
                yield from words_of(phrases.replace("/", " "))
    for _, _, phrase in composed_phrases():
        yield from words_of(phrase)


MOVE_WORDS: Final = frozenset(_all_words()) | frozenset(word for word in _FILLER)


def moves_in(
    tokens: Sequence[Token], matches: Sequence[Match[Sense]], chunks: Sequence[Chunk], *, replying: bool
) -> tuple[Move, ...]:
    """The moves of a text, in the order in which they stand; `replying`: a question is open, and "how" is about it."""
    found: dict[str, int] = {}
    for match in matches:
        exact = match.gaps == 0 and match.score >= (_LEAST if match.words > 1 else _LEAST_OF_ONE)
        clear = match.target.kind == "move" and exact
        alone = (
            match.target.kind == "move_alone"
            and exact
            and (
                _is_all(tokens, match)
                or (match.target.id in _AT_THE_END and _fills(tokens, chunks[-1:], match, last=True))
                or (
                    (
                        match.target.id in _OF_ONE_WORD
                        or (match.target.id in _AT_THE_START and match.words > 1)
                    )
                    and _fills(tokens, chunks[:1], match, last=False)
                )
            )
        )
        alone = alone or (match.target.id == "done" and exact and _before_a_number(tokens, match))
        unwanted = (match.target.id == "person" and is_unwanted(tokens, match.first)) or (
            match.target.id == "holds" and _is_asked(chunks, match)
        )
        if (clear or alone) and not unwanted and not _is_reflexive(tokens, match):
            found.setdefault(match.target.id, match.first)
    if len(tokens) and all(token.kind == "nod" for token in tokens):
        found.setdefault("yes", 0)
    how = asks_how(tokens, chunks) if replying else None
    if how is not None:
        found.setdefault("how", how)
    if found.keys() & {"unsure", "cannot"}:
        found.pop("no", None)
    moves = sorted(found, key=lambda move: (found[move], move))
    return tuple(_a_move(move) for move in moves)


def _is_all(tokens: Sequence[Token], match: Match[Sense]) -> bool:
    """Nothing but courtesy stands beside the phrase."""
    if len(tokens) > _LONGEST:
        return False
    rest = [
        token.word
        for place, token in enumerate(tokens)
        if token.kind in {"word", "number"} and not match.first <= place < match.last
    ]
    return len(rest) <= _MOST_WORDS and all(
        word in _FILLER or word in DETERMINERS or word in LIGHT for word in rest
    )


def _fills(tokens: Sequence[Token], chunks: Sequence[Chunk], match: Match[Sense], *, last: bool) -> bool:
    """It is all that a text's last segment holds, or its first: "no tengo paciencia para eso, paso", "no se ve, …"."""
    if not chunks:
        return False
    first, end = chunks[0].segments[-1 if last else 0]
    rest = [token for token in tokens[first:end] if token.kind != "mark"]
    return first <= match.first and len(rest) == match.last - match.first


def _before_a_number(tokens: Sequence[Token], match: Match[Sense]) -> bool:
    """It opens a text that gives a number: "ok done it's at 40"."""
    opens = all(token.kind != "word" or token.word in _FILLER for token in tokens[: match.first])
    return opens and any(token.kind == "number" for token in tokens[match.last :])


def _is_asked(chunks: Sequence[Chunk], match: Match[Sense]) -> bool:
    return any(chunk.asks and chunk.first <= match.first < chunk.last for chunk in chunks)


def _is_reflexive(tokens: Sequence[Token], match: Match[Sense]) -> bool:
    """As in "No se mueve" says what the thing does; "no sé", "no se" alone and "no se si …" say that they do not know."""
    last = tokens[match.last - 1]
    if match.target.id != "unsure" or last.word != "se" or last.seen == "sé" or match.last == len(tokens):
        return False
    follow = tokens[match.last]
    return follow.kind == "word" and follow.word not in _AFTER_NO_SE


def _a_move(move: str) -> Move:
    for table, _ in _TABLES:
        for known in table:
            if known == move:
                return known
    raise ValueError(move)
