"""The helpline with the real conversation and the knowledge that ships."""

from assistant.casebook import Casebook, load_case
from assistant.helpline import Editions, Helpline, House, conversing_with, slip_of
from assistant.helpline.conversing import answers_open_question, waits_for_number
from kb.knowledge import Knowledge
from tests.helpline.fakes import NOON, TEXAS, Post, after


def helpline_with(book: Casebook, knowledge: Knowledge, post: Post | None = None) -> Helpline:
    return Helpline(
        House(casebook=book, editions=Editions(conversing_with(knowledge)), key=b"k", courier=post)
    )


def test_a_text_is_read_answered_and_explained(book: Casebook, knowledge: Knowledge) -> None:
    post = Post()
    helpline = helpline_with(book, knowledge, post)

    answer = helpline.receive_from("sms", TEXAS, "my cooler is at 52, set to 38, weak air", "s1", NOON)
    helpline.run_due(NOON)

    assert answer.case is not None
    assert answer.state == "asking"
    assert "911" in post.texts()[0]
    reasons = helpline.reasoning(answer.case)
    assert reasons["edition"] == knowledge.edition
    assert reasons["marginals"]
    assert reasons["next"]
    slip = slip_of(helpline.house, answer.case)
    assert (slip.target, slip.last) == ("38 F", "52 F")


def test_the_shipped_knowledge_is_kept_with_its_cases(book: Casebook, knowledge: Knowledge) -> None:
    helpline = helpline_with(book, knowledge)
    helpline.open_case(client_id="c1", at=NOON, text="too warm", language="en")

    files = helpline.edition_files(knowledge.edition)

    assert files is not None
    assert "words/things.yaml" in " ".join(files)


def test_the_first_option_of_an_open_question_answers_it_and_small_talk_does_not(
    book: Casebook, knowledge: Knowledge
) -> None:
    helpline = helpline_with(book, knowledge)
    opening = helpline.open_case(
        client_id="c1", at=NOON, text="my cooler is at 52 F, set to 38 F", language="en"
    )
    label = opening.messages[-1].options[0][1]
    with book.reading() as session:
        case, _ = load_case(session, opening.case)

    assert answers_open_question(knowledge, case, label)
    assert not answers_open_question(knowledge, case, "thank you")


def test_after_a_danger_the_case_stands_still_until_the_desk_reopens_it(
    book: Casebook, knowledge: Knowledge
) -> None:
    helpline = helpline_with(book, knowledge)
    case = helpline.open_case(client_id="c1", at=NOON, text="there is smoke coming from the unit").case
    assert helpline.desk_list()[0].state == "danger"

    told = helpline.run_due(after(6))
    helpline.reopen_after_danger(case, "Ana", after(7))

    assert told == 1
    assert helpline.desk_list()[0].state != "danger"


def test_a_question_for_a_reading_waits_for_a_number(knowledge: Knowledge) -> None:
    from assistant.conversation import apply, new_case
    from assistant.conversation.events import WaitingFor

    measured = next(check for check, node in knowledge.checks.items() if node.measures is not None)
    looked_at = next(check for check, node in knowledge.checks.items() if node.measures is None)

    def waiting(check: str) -> bool:
        return waits_for_number(knowledge, apply(new_case(), WaitingFor(at=NOON, kind="check", check=check)))  # type: ignore[arg-type]  # ids as they come

    assert waiting(measured)
    assert not waiting(looked_at)
    assert not waits_for_number(knowledge, new_case())
