"""`helpline kb rename` and `retire`: an id changes everywhere at once, and leaves the trail that open cases need."""

from collections.abc import Iterable, Iterator
from pathlib import Path

import click

from assistant.helpline import MachineClock
from channels.knowledge import our_folder
from kb.renaming import Bench, Changes, Named

FOLDER = click.Path(path_type=Path, exists=True, file_okay=False)
PROGRAM = Path(__file__).resolve().parents[2]
ELSEWHERE = ("assistant", "channels", "tests", "transcripts_demo", "kb/README.md")
"""Where ids are written outside the knowledge: told, never changed."""
SUFFIXES = {".py", ".md", ".jsonl", ".json"}
IN = click.option(
    "--in", "folder", type=FOLDER, help="The folder of knowledge, where it is not the program's."
)


@click.command("rename")
@click.argument("old")
@click.argument("new")
@IN
def rename(old: str, new: str, folder: Path | None) -> None:
    """Call OLD (an id, `kind:id`, or `finding.state`) NEW in every file. Remarks and line breaks stay.

    The node then says `was: [OLD]`, so that open cases which hold the old id go on. All is changed, or nothing.
    """
    bench = Bench(folder or our_folder())
    named = bench.named(old)
    changes = bench.rename(named, new)
    changes.write(bench.folder)
    click.echo("\n".join(_told(changes, named)))


@click.command("retire")
@click.argument("old", metavar="ID")
@click.option("--instead", metavar="ID", help="What says the same now: cases and files go on with it.")
@click.option("--why", required=True, help="In a few words, for those who find the tombstone.")
@IN
def retire(old: str, instead: str | None, why: str, folder: Path | None) -> None:
    """Take ID out of every file and leave a tombstone in retired.yaml, for open cases may hold it."""
    bench = Bench(folder or our_folder())
    named = bench.named(old)
    today = MachineClock().now().date().isoformat()
    changes = bench.retire(named, why=why, since=today, instead=instead)
    changes.write(bench.folder)
    click.echo("\n".join(_told(changes, named)))


def _told(changes: Changes, old: Named) -> Iterator[str]:
    pages = [path for path in changes.files if path.endswith(".yaml")]
    yield f"{changes.places} mentions changed in {len(pages)} files"
    yield from (f"  {path} is now {new}" for path, new in changes.moved.items())
    yield from (f"  {path} is gone" for path, text in changes.files.items() if text is None)
    if any(path.startswith("heard/") for path in (*changes.files, *changes.moved)):
        yield "the phrases went along; what was learnt from them is learnt anew: `helpline kb listen`"
    named = list(_named_elsewhere(old.state or old.id))
    if named:
        yield f"the old id is also written here, where only you can say what is meant ({len(named)} lines):"
        yield from (f"  {line}" for line in named[:12])
    yield "now `helpline kb check`"


def _named_elsewhere(id_: str) -> Iterator[str]:
    """Lines of the program, its tests and papers that hold the id as a word in quotes."""
    signs = (f'"{id_}"', f"'{id_}'", f"`{id_}`")
    for path in _papers():
        for number, line in enumerate(path.read_text(encoding="utf-8").splitlines(), start=1):
            if any(sign in line for sign in signs):
                yield f"{path.relative_to(PROGRAM)}:{number}"


def _papers() -> Iterable[Path]:
    for name in ELSEWHERE:
        top = PROGRAM / name
        yield from [top] if top.is_file() else sorted(p for p in top.rglob("*") if p.suffix in SUFFIXES)
