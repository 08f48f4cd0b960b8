"""Knowledge: plain files in, one checked `Knowledge` out.

In: a folder of YAML. Out: `Knowledge` (nodes by id, graph, edition), or `KnowledgeError` with every fault and its place.
Never: a decision about a case, a sentence of the program's own. Start at `load`; what authors may write stands in `kb.schema`.
"""

from kb.errors import HelplineError, KnowledgeError, RequestError, SettingsError
from kb.knowledge import Knowledge
from kb.loading import load, load_files
from kb.problems import Place, Problem

__all__ = [
    "HelplineError",
    "Knowledge",
    "KnowledgeError",
    "Place",
    "Problem",
    "RequestError",
    "SettingsError",
    "load",
    "load_files",
]
