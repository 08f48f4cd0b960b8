"""Texts by telephone: signed webhooks in, texts out through the provider's REST interface.

In: a helpline and settings. Out: a Flask blueprint and a courier. Never: a decision about a case, a consent or an hour;
those are the helpline's. Start at `webhooks`, then `courier`.
"""

from channels.sms.courier import TwilioCourier
from channels.sms.media import TwilioMedia
from channels.sms.pocket import Pocket
from channels.sms.refusals import CARRIER_ANSWERS
from channels.sms.signing import Line
from channels.sms.webhooks import sms_routes

__all__ = ["CARRIER_ANSWERS", "Line", "Pocket", "TwilioCourier", "TwilioMedia", "sms_routes"]
