"""The helpline: use cases, and where transactions begin and end.

In: messages, hours and the desk's words, from a channel. Out: answers, openings, queues, as frozen values. Never: wire
formats, a decision about a case. Start at `use_cases`, then `settling`: every use case ends there.
"""

from assistant.casebook import CaseClock, MachineClock, MovableClock
from assistant.helpline.album import Album
from assistant.helpline.carrying import CodeShown, code_to_phone, open_by_code
from assistant.helpline.conversing import conversing_over, conversing_with
from assistant.helpline.couriers import Accepted, Courier, Later, NotSent, Outcome, RefusalKind, Refused
from assistant.helpline.desk_room import DeskRoom, Ended, Folder, Hit
from assistant.helpline.desk_work import ASKED_AFTER_DAYS, DeskWork, Ending, Reached, Sending
from assistant.helpline.editions import Editions
from assistant.helpline.fetching import Fetcher, NotYet, Unfit
from assistant.helpline.figures import Figure, figures_of
from assistant.helpline.house import Desk, House
from assistant.helpline.insight import Insight, NextCheck, Share, insight_into
from assistant.helpline.limits import Limits
from assistant.helpline.part_room import PartRoom, Told
from assistant.helpline.pictures import LARGEST_BYTES, MOST_AT_ONCE
from assistant.helpline.plug import Conversing
from assistant.helpline.queue import ORDER, QueueLine, Reason
from assistant.helpline.reasons import reasons_in
from assistant.helpline.sending import Handed
from assistant.helpline.sheet_links import SheetLink, link_for, opened
from assistant.helpline.sheets import Sheet
from assistant.helpline.signing_in import Door, Role
from assistant.helpline.slips import Slip, slip_of
from assistant.helpline.storm import Cluster, clusters_of
from assistant.helpline.use_cases import Helpline
from assistant.helpline.views import Answer, MessageView, Opening
from assistant.helpline.warranty import Covered, Policy, read_policy

__all__ = [
    "ASKED_AFTER_DAYS",
    "LARGEST_BYTES",
    "MOST_AT_ONCE",
    "ORDER",
    "Accepted",
    "Album",
    "Answer",
    "CaseClock",
    "Cluster",
    "CodeShown",
    "Conversing",
    "Courier",
    "Covered",
    "Desk",
    "DeskRoom",
    "DeskWork",
    "Door",
    "Editions",
    "Ended",
    "Ending",
    "Fetcher",
    "Figure",
    "Folder",
    "Handed",
    "Helpline",
    "Hit",
    "House",
    "Insight",
    "Later",
    "Limits",
    "MachineClock",
    "MessageView",
    "MovableClock",
    "NextCheck",
    "NotSent",
    "NotYet",
    "Opening",
    "Outcome",
    "PartRoom",
    "Policy",
    "QueueLine",
    "Reached",
    "Reason",
    "RefusalKind",
    "Refused",
    "Role",
    "Sending",
    "Share",
    "Sheet",
    "SheetLink",
    "Slip",
    "Told",
    "Unfit",
    "clusters_of",
    "code_to_phone",
    "conversing_over",
    "conversing_with",
    "figures_of",
    "insight_into",
    "link_for",
    "open_by_code",
    "opened",
    "read_policy",
    "reasons_in",
    "slip_of",
]
