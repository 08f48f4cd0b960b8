from datetime import UTC, datetime

from hypothesis import given
from hypothesis import strategies as st

from assistant.conversation import apply, new_case
from assistant.conversation.events import FactLearned
from assistant.thread import (
    ConsentGiven,
    ThreadSentence,
    filled,
    in_words,
    is_opted_out,
    lasting_facts,
    room_words,
)
from assistant.thread.sentences import SENTENCES
from assistant.thread.tidying import plain
from kb.gsm7 import fold_for_sms, segments
from kb.ids import FindingId, Language, StateId
from kb.knowledge import Knowledge

NOON = datetime(2026, 7, 14, 16, tzinfo=UTC)


def test_the_last_word_on_consent_holds() -> None:
    no = ConsentGiven(kind="opt_out", at=NOON, source="text")
    yes = ConsentGiven(kind="opt_in", at=NOON, source="text")

    assert not is_opted_out(())
    assert is_opted_out((yes, no))
    assert not is_opted_out((yes, no, yes))


@given(st.text())
def test_a_tidied_text_stays_as_it_is(text: str) -> None:
    assert plain(plain(text)) == plain(text)


def test_a_room_without_a_name_leaves_no_trace() -> None:
    assert filled("How is {room}, then?", None) == "How is, then?"
    assert filled("{room}: how is it?", "The barn") == "The barn: how is it?"
    assert filled("No  place here", None) == "No  place here"
    assert room_words(None, 1, "en") == "room 1"


def test_only_what_lasts_always_is_carried(knowledge: Knowledge) -> None:
    always = sorted(name for name, finding in knowledge.findings.items() if finding.lasts == "always")
    passing = sorted(name for name, finding in knowledge.findings.items() if finding.lasts != "always")
    case = new_case()
    for finding in (FindingId(always[0]), FindingId(passing[0])):
        state = next(iter(knowledge.findings[finding].states))
        fact = FactLearned(
            at=NOON, finding=finding, state=state, likelihood=(), confidence=1.0, source="said"
        )
        case = apply(case, fact)

    assert [finding for finding, _ in lasting_facts(knowledge, case)] == [always[0]]


def test_of_a_finding_the_latest_state_is_carried(knowledge: Knowledge) -> None:
    finding = next(f for f in knowledge.findings.values() if f.lasts == "always" and len(f.states) > 1)
    first, second = list(finding.states)[:2]
    case = new_case()
    for state in (first, second):
        fact = FactLearned(
            at=NOON,
            finding=finding.finding,
            state=StateId(state),
            likelihood=(),
            confidence=1.0,
            source="said",
        )
        case = apply(case, fact)

    assert lasting_facts(knowledge, case) == ((finding.finding, second),)


def test_every_sentence_fits_two_parts_and_says_what_the_rules_want() -> None:
    values = {
        "desk": "Cold room helpline",
        "contact": "+1 512 555 0100",
        "number": "49",
        "rooms": "1 the flower cooler, 2 the barn",
        "question": "Does the fan turn? 1 yes, 2 no",
        "page": "the page",
        "code": "482913",
    }
    for sentence, in_each in SENTENCES.items():
        for language in in_each:
            words = in_words(sentence, language, **values)
            assert segments(fold_for_sms(words)) <= 2, (sentence, language, words)
    languages: tuple[Language, ...] = ("en", "es")
    for language in languages:
        # CTIA Messaging Principles 5.1.3 and 5.1.2.1: the sender named, a way out, rates
        out_of_it: dict[ThreadSentence, tuple[str, str]] = {
            "stopped": ("START", "INICIAR"),
            "started": ("STOP", "ALTO"),
            "help": ("STOP", "ALTO"),
        }
        for sentence, wanted in out_of_it.items():
            words = in_words(sentence, language, **values)
            assert values["desk"] in words
            assert any(word in words for word in wanted)
