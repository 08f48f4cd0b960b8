"""The demo's season: a valley that is on no map, its people and their rooms, played through the real use cases.

In: a helpline and the hour that it is now. Out: nothing; the cases stand in the casebook as if their people had written.
Never: an event made up by hand, a random number. Start at `season`.
"""

from channels.demo.recording import FILE as RECORD
from channels.demo.recording import record
from channels.demo.season import Season, play_now, play_season
from channels.demo.seeding import seed
from channels.demo.stories import our_region

__all__ = ["RECORD", "Season", "our_region", "play_now", "play_season", "record", "seed"]
