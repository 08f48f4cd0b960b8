"""One case of the demo on its way: its customer writes, a colleague steps in where one is needed, the hours do theirs."""

from dataclasses import dataclass, field
from datetime import datetime, timedelta
from typing import Final

from assistant.casebook import load_case, timers
from assistant.conversation.case import Case
from assistant.conversation.ids import ASSISTANT
from assistant.helpline import DeskRoom, DeskWork, Ending, Helpline
from channels.demo.people import NO, YES, Customer
from channels.demo.stories import Both, drawn, our_region, share
from kb.knowledge import Knowledge

ZONE: Final = "America/Denver"
GIVES_UP: Final = 22
CONFIRMS_OF: Final = 5
"""Of so many closed cases, one has no confirmed cause."""
WORDS: Final = {
    "licensed_trade": (
        Both(
            en="This is {me} at the desk. I have sent your technician everything we know. Please leave the unit closed.",
            es="Soy {me}, de la mesa de ayuda. Ya le mandé a su técnico todo lo que sabemos. No abra el aparato, por favor.",
        ),
        Both(
            en="{me} here. A licensed technician needs to see this one. I am sending you a sheet for them.",
            es="Habla {me}. Esto lo tiene que ver un técnico con licencia. Le mando una hoja para él.",
        ),
    ),
    "part": (
        Both(
            en="{me} at the desk: I have put the part down for you and will write when it is on its way.",
            es="Soy {me}: ya pedí la pieza para usted y le escribo cuando salga.",
        ),
    ),
    "danger": (
        Both(
            en="This is {me}, a person. Is everybody out and safe? I am ringing you now.",
            es="Soy {me}, una persona. ¿Están todos afuera y bien? Le llamo ahora mismo.",
        ),
    ),
    "other": (
        Both(
            en="Hello, {me} here, I have read it all. Give me a minute to look at your numbers.",
            es="Hola, soy {me}, ya leí todo. Deme un minuto para ver sus números.",
        ),
        Both(
            en="{me} at the desk. Thanks for waiting, I am looking at your room now.",
            es="Soy {me}, de la mesa. Gracias por esperar, estoy viendo su cuarto.",
        ),
    ),
}
ASIDES: Final = (
    "Sounded calm, has a second cooler to move things to.",
    "Has had this unit four seasons, bought the controller from a neighbour.",
    "Prefers calls after milking, about nine.",
    "Brother is an electrician, may help with the outlet.",
    "Spoke with the trade: they come tomorrow morning.",
)


@dataclass(slots=True)
class Play:
    """A customer, a case, and how far they have come."""

    helpline: Helpline
    knowledge: Knowledge
    customer: Customer
    begins: datetime
    staffed: bool = True
    """A colleague comes when one is needed."""
    case: str = ""
    texts: int = 0
    met_at: datetime | None = None
    """When a colleague took it up."""
    said: list[str] = field(default_factory=list)

    @property
    def first_id(self) -> str:
        """The client id of their first text: what shows that this was played when the demo was started before."""
        return f"season-{self.customer.number}-0"

    def go_on(self, at: datetime) -> datetime | None:
        """The next thing that happens at this hour; the hour of the one after it, None where it is over."""
        if self.case and self._something_is_due(at):
            self.helpline.run_due(at)
        if not self.case:
            self._begin(at)
            return at + self._pause()
        case, state = self._look()
        if state == "closed":
            return self._after_close(case, at)
        if case.voice != ASSISTANT or state in ("with_person", "danger"):
            return self._desk(case, state, at)
        if self.texts >= self.customer.lasts:
            if self.texts >= GIVES_UP:
                self._close(at)
                return None
            return self._next_promise(at)
        text = self.customer.reply(self.knowledge, case, self.texts)
        if text is None or self._is_promised(case, at):
            return self._next_promise(at)
        self._write(text, at)
        return at + self._pause()

    # -- the customer ----------------------------------------------------------------------------------------------

    def _begin(self, at: datetime) -> None:
        customer, first = self.customer, self.customer.first_text()
        client_id = f"season-{customer.number}-0"
        if customer.address is not None:
            taken = self.helpline.receive_from("sms", customer.address, first, client_id, at)
            self.case = str(taken.case or "")
            self.helpline.exchange(
                "sms", customer.address, first, client_id, at
            )  # the provider took the answer
        else:
            channel = "call" if customer.on_the_line else "web"
            text = None if customer.on_the_line else first
            opened = self.helpline.open_case(
                client_id=client_id, at=at, text=text, language=customer.language, channel=channel,
                zone=ZONE, region="911",
            )  # fmt: skip
            self.case = str(opened.case)
            if customer.on_the_line:
                self._meet(at)
                self.helpline.receive(self.case, None, first, client_id, at)
        self.helpline.name_room(self.case, customer.room.room)
        DeskWork(self.helpline.house).place(self.case, customer.place)
        self.texts = 1

    def _write(self, text: str, at: datetime) -> None:
        client_id = f"season-{self.customer.number}-{self.texts}"
        if self.customer.address is None:
            self.helpline.receive(self.case, None, text, client_id, at)
        else:
            self.helpline.exchange("sms", self.customer.address, text, client_id, at)
        self.texts += 1

    def _pause(self) -> timedelta:
        return timedelta(seconds=70 + share(400, self.customer.number, self.texts, "pause"))

    def _is_promised(self, case: Case, at: datetime) -> bool:
        """An hour was promised at which we ask: until then nobody writes."""
        return any(timer.timer in ("verify", "watch") and timer.due > at for timer in case.timers)

    def _something_is_due(self, at: datetime) -> bool:
        with self.helpline.house.casebook.reading() as session:
            due = timers.next_due(session, self.case)
        return due is not None and due <= at

    def _next_promise(self, at: datetime) -> datetime | None:
        with self.helpline.house.casebook.reading() as session:
            due = timers.next_due(session, self.case)
        return None if due is None else max(due, at) + timedelta(minutes=1)

    def _look(self) -> tuple[Case, str]:
        with self.helpline.house.casebook.reading() as session:
            case, _ = load_case(session, self.case)
        return case, case.state

    def _after_close(self, case: Case, at: datetime) -> datetime | None:
        """Asked whether it held, most say yes."""
        waiting = case.waiting_for
        if waiting is None or waiting.kind != "did_it_hold":
            due = self._next_promise(at)
            return None if due is None else due + timedelta(minutes=20)
        self._write((NO if share(8, self.customer.number, "held") == 0 else YES)[self.customer.language], at)
        return at + self._pause()

    # -- the desk --------------------------------------------------------------------------------------------------

    @property
    def _colleague(self) -> str:
        return drawn(our_region().colleagues, self.customer.number, "colleague")

    def _desk(self, case: Case, state: str, at: datetime) -> datetime | None:
        if not self.staffed:
            return None
        if self.met_at is None:
            called = case.desk_calls[-1].at if case.desk_calls else at
            ready = called + timedelta(minutes=12 + share(50, self.customer.number, "desk"))
            if ready > at:
                return ready
            self._meet(at)
            return at + timedelta(minutes=3)
        if not self.said and not self.customer.on_the_line:
            self._say(case, at)
            return at + timedelta(minutes=15 + share(90, self.customer.number, "closes"))
        if state == "danger":
            self.helpline.reopen_after_danger(self.case, self._colleague, at)
            return at + timedelta(minutes=20)
        self._close(at)
        return None

    def _meet(self, at: datetime) -> None:
        self.helpline.take_over(self.case, self._colleague, at)
        self.met_at = at

    def _say(self, case: Case, at: datetime) -> None:
        why = case.desk_calls[-1].why if case.desk_calls else "other"
        words = drawn(WORDS.get(why, WORDS["other"]), self.customer.number, "words")
        text = words.in_(case.language or "en").format(me=self._colleague)
        self.said.append(text)
        seen = self.helpline.messages_after(self.case)[-1].id
        self.helpline.write(
            self.case,
            self._colleague,
            text,
            seen=seen,
            client_id=f"season-{self.customer.number}-desk",
            at=at,
        )
        if share(3, self.customer.number, "aside") == 0:
            note = drawn(ASIDES, self.customer.number, "note")
            client_id = f"season-{self.customer.number}-aside"
            DeskRoom(self.helpline.house).note_aside(self.case, self._colleague, note, client_id, at)

    def _close(self, at: datetime) -> None:
        number, story = self.customer.number, self.customer.story
        sure = share(CONFIRMS_OF, number, "confirms") > 0
        mends = self.knowledge.causes[story.cause].fixes if story.cause else ()
        ending = Ending(
            cause=story.cause if story.cause and sure else None,
            new_cause=story.new_cause.en if story.new_cause else "",
            fix=mends[0] if sure and mends else None,
            mended_by=story.mended_by.en if story.mended_by else "",
            ask_after_days=drawn((None, 1, 3), number, "asks"),
        )
        DeskWork(self.helpline.house).close(self.case, self._colleague, ending, at)
