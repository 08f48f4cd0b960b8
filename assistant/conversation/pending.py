"""The open question: what the next message is read against, and how it is put again in other words."""

from assistant.conversation.asking import ask
from assistant.conversation.danger import DOUBT_NO, DOUBT_YES, SIGNS, ask_made_safe, yes_no
from assistant.conversation.events import WaitingFor
from assistant.conversation.turn import Turn
from assistant.reading import OpenQuestion, Option, open_question

UNITS = (("F", "F"), ("C", "C"))
NUMBER_SENTENCES = {"target_c": "watch_target", "outdoor_c": "plan_outdoor", "product_kg": "plan_product"}
"""How a number is asked for again; the room's own is the rule."""


def as_read(turn: Turn) -> OpenQuestion | None:
    """The open question as the reading room takes it."""
    waiting = turn.case.waiting_for
    if waiting is None:
        return None
    match waiting.kind:
        case "check" if waiting.check is not None and waiting.check in turn.knowledge.checks:
            return open_question(turn.knowledge, waiting.check, turn.language)
        case "say_back" | "resolved" | "consent" | "did_it_hold" | "made_safe":
            return _yes_or_no(turn, doubt=waiting.hazard is not None and waiting.kind == "say_back")
        case "done" | "hazard_done":
            return OpenQuestion(done=True)
        case "number":
            return OpenQuestion(number_of=waiting.quantity)
        case "hazard_sign":
            options = SIGNS[turn.language]
            return OpenQuestion(options=tuple(Option(value=value, label=label) for value, label in options))
        case "which_unit":
            return OpenQuestion(
                options=(
                    Option(value="F", label="F", wordings=("fahrenheit", "farenheit", "grados f")),
                    Option(
                        value="C", label="C", wordings=("celsius", "centigrade", "centígrados", "grados c")
                    ),
                )
            )
        case _:
            return None


def _yes_or_no(turn: Turn, *, doubt: bool) -> OpenQuestion:
    yes, no = yes_no(turn)
    return OpenQuestion(
        yes_no=True,
        options=(
            Option(value=yes[0], label=yes[1], wordings=DOUBT_YES if doubt else ()),
            Option(value=no[0], label=no[1], wordings=DOUBT_NO if doubt else ()),
        ),
        yes_means="yes",
        no_means="no",
    )


def put_again(turn: Turn) -> None:
    """The open question once more, in other words; nothing where none is open."""
    waiting = turn.case.waiting_for
    if waiting is None:
        return
    match waiting.kind:
        case "check" if waiting.check is not None:
            ask(turn, waiting.check, fix=waiting.fix)
        case "done":
            fix = turn.case.fix_under_way
            steps = len(turn.knowledge.fixes[fix.fix].steps) if fix and fix.fix in turn.knowledge.fixes else 0
            turn.say("fix_more" if fix is not None and fix.upto < steps else "fix_still")
        case "number":
            turn.say(NUMBER_SENTENCES.get(str(waiting.quantity), "verify_ask"))
        case "hazard_done":
            turn.say("hazard_confirm")
        case "opening":
            turn.say("opening_ask")
        case _:
            _plainly(turn, waiting)


def _plainly(turn: Turn, waiting: WaitingFor) -> None:
    if waiting.kind == "resolved":
        turn.say("settled_ask", options=yes_no(turn))
    elif waiting.kind == "consent":
        turn.say("may_i_remind" if waiting.scope == "cleaning" else "may_i_ask", options=yes_no(turn))
    elif waiting.kind == "made_safe" and waiting.hazard is not None:
        ask_made_safe(turn, waiting.hazard)
    elif waiting.kind == "which_unit" and waiting.value is not None:
        turn.say("which_unit", value=f"{waiting.value:g}", options=UNITS)
