"""`heard-…`: phrases beside the knowledge that teach nothing, and an ear that is older than they are.

The files under `heard/` are no pages of the shelf, so this looks at the folder itself, as `stale-spanish` does.
"""

from collections.abc import Iterator
from pathlib import Path

from kb.heard import EAR_FILE, HEARD, digest_of, misnamed, read_heard
from kb.knowledge import Knowledge
from kb.problems import Place, Problem


def unheard(knowledge: Knowledge, folder: Path, shown: str) -> Iterator[Problem]:
    """Faults in the phrases of `folder`, and a warning where the ear was not trained on them as they stand."""
    phrases, problems = read_heard(folder)
    yield from problems
    yield from misnamed(phrases, knowledge)
    if phrases and (knowledge.ear is None or knowledge.ear.made_of != digest_of(phrases)):
        yield Problem(
            place=Place(path=f"{shown}/{HEARD}/{EAR_FILE}"),
            what="the ear was not trained on these phrases",
            why="what was added or taken out since is not heard",
            mend="run `helpline kb listen`",
            rule="heard-untrained",
            severity="warning",
        )
