"""The desk: pages for the people behind the assistant, signed in.

In: use cases and a door. Out: a Flask blueprint. Never: a decision about a case. Start at `routes`, then `pages/`.
"""

from channels.desk.papers import sheet_routes
from channels.desk.routes import desk_routes

__all__ = ["desk_routes", "sheet_routes"]
