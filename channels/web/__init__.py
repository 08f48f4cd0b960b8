"""Web: the public JSON API, the element that stands in a page, and the pages that show it.

In: requests. Out: what the helpline's use cases answered, as JSON or HTML. Never: a cold room, a decision, a table.
Start at `create_app`; a view is three lines, and what it refuses is a problem with a way to mend it.
"""

from channels.web.app import WebSettings, create_app

__all__ = ["WebSettings", "create_app"]
