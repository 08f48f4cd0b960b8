"""The question that a check puts, as a reply is read against it."""

from functools import lru_cache
from typing import Final

from assistant.reading.clauses import chunks_of
from assistant.reading.lexicon import Same
from assistant.reading.normalise import tokens_of
from assistant.reading.said import OpenQuestion, Option
from assistant.reading.thresholds import SAY_BACK
from assistant.reading.worded import described
from assistant.reading.wordsets import word_set
from kb.ids import CheckId, FindingId, Language, StateId
from kb.knowledge import Knowledge
from kb.schema import Check


def open_question(knowledge: Knowledge, check_id: CheckId, language: Language) -> OpenQuestion:
    """The open question that a check puts: its options in order, each with all it is called in both languages."""
    return _asked(Same(knowledge), check_id, language)


@lru_cache(maxsize=512)
def _asked(same: Same, check_id: CheckId, language: Language) -> OpenQuestion:
    knowledge = same.knowledge
    check = knowledge.checks[check_id]
    finding = knowledge.findings[check.finds]
    offered = check.offers or tuple(finding.states)
    other: Language = "es" if language == "en" else "en"
    options = tuple(_option(knowledge, check.finds, state, language, other) for state in offered)
    values = {option.value for option in options}
    yes_means, no_means = _yes_and_no(knowledge, check, options, language)
    return OpenQuestion(
        check=check_id,
        finding=check.finds,
        options=() if check.measures is not None else options,
        graded=finding.ordered,
        told_as=options if check.measures is not None else (),
        number_of=check.measures,
        number_tells=check.number_tells,
        yes_means=yes_means,
        no_means=no_means,
        yes_no=values == {"yes", "no"},
    )


def _yes_and_no(
    knowledge: Knowledge, check: Check, options: tuple[Option, ...], language: Language
) -> tuple[str | None, str | None]:
    """What a plain yes and a plain no to a check's question mean: its last sentence is read like anybody's words.

    "Does it turn?" describes one option; "Clean or dusty?" two, and "How much?" none: no answer then.
    """
    sentence = check.ask.in_(language).replace("¿", ". ").split(". ")[-1]
    tokens = tokens_of(sentence)
    words = [token.word for token in tokens if token.kind == "word"]
    if not words or tokens[-1].word != "?" or words[0] in _ASKS_WHICH or "how" in words:
        return None, None
    said = tokens_of(sentence.replace("?", ""))
    vote = described(options, said, chunks_of(said))
    if vote is None or vote.rival is not None or vote.confidence < SAY_BACK:
        return None, None
    others = [option.value for option in options if option.value != vote.value]
    return vote.value, others[0] if len(others) == 1 else None


_ASKS_WHICH: Final = word_set(
    "how what which where when who why que cual como donde cuanto cuantos cuanta a de en cuando quien"
)


def _option(
    knowledge: Knowledge, finding_id: FindingId, state_id: StateId, language: Language, other: Language
) -> Option:
    finding = knowledge.findings[finding_id]
    state = finding.states[state_id]
    meant = [knowledge.qualities[quality] for quality in state.is_]
    also = [said[state_id] for said in (finding.sayings, finding.answers) if state_id in said]
    said = (*state.in_(language), *state.in_(other))
    label = said[0] if said else state_id
    more = [wording for words in (*also, *meant) for wording in (*words.in_(language), *words.in_(other))]
    return Option(value=state_id, label=label, wordings=tuple(dict.fromkeys((*said[1:], *more))))
