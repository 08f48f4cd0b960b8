"""`helpline kb learn`, `phrases` and `take-in`: what the cases say about the knowledge, for an author to judge."""

import json
from collections.abc import Iterator
from dataclasses import asdict
from pathlib import Path
from typing import cast

import click

from assistant.helpline.harvest import closed_logs, unread_words
from assistant.reading import open_question, read
from assistant.reading.labelled import set_files, texts_of
from assistant.reasoning import propose
from assistant.workbench.learning_cases import as_diff, closed_case, proposed
from assistant.workbench.unread_phrases import Group, Unread, grouped
from channels.house import open_house
from channels.knowledge import our_folder, our_knowledge
from kb.adding import How, has_states, taken_in
from kb.compiling import compile_
from kb.errors import RequestError
from kb.files import shown_path
from kb.ids import Language
from kb.knowledge import Knowledge
from kb.loading import default_store, look
from kb.renaming import Bench

DEMO = click.option("--demo", is_flag=True, help="The cases of the demo.")
SHOWN = 3


@click.command("learn")
@DEMO
@click.option("--json", "as_json_", is_flag=True)
def learn(*, demo: bool, as_json_: bool) -> None:
    """Propose strengths and how common causes are from closed cases, as a diff to review: `git apply` takes it.

    A cause counts where a colleague closed the case with it, or where its fix held; the written words weigh as much as five cases each.
    """
    knowledge = our_knowledge()
    logs = closed_logs(open_house(demo=demo).helpline.house)
    taught = [one for log in logs if (one := closed_case(knowledge, [event for _, event in log])) is not None]
    found = propose(compile_(knowledge), taught)
    shelf, _, _ = look(our_folder(), store=default_store())
    if as_json_:
        click.echo(
            json.dumps(
                {"closed": len(logs), "taught": len(taught), "proposals": [asdict(p) for p in found]},
                indent=1,
            )
        )
        return
    click.echo(f"# {len(logs)} closed cases, {len(taught)} of known cause: {len(found)} values to look at")
    click.echo(as_diff(shelf, proposed(shelf, found)), nl=False)


@click.command("phrases")
@click.argument("texts", nargs=-1, type=click.Path(path_type=Path, exists=True))
@DEMO
@click.option("--least", type=click.IntRange(1), default=1, show_default=True, help="Said so often at least.")
@click.option("--json", "as_json_", is_flag=True)
def phrases(texts: tuple[Path, ...], least: int, *, demo: bool, as_json_: bool) -> None:
    """What customers said that could not be read, grouped, with the nearest meaning; of TEXTS (labelled sets) in place of cases."""
    knowledge = our_knowledge()
    unread = _unread_in(knowledge, texts) if texts else _unread_of_cases(demo=demo)
    groups = [group for group in grouped(knowledge, unread) if group.count >= least]
    if as_json_:
        click.echo(json.dumps([asdict(group) for group in groups], ensure_ascii=False, indent=1))
        return
    click.echo("\n".join(line for group in groups for line in _told(group)) or "everything was read")


@click.command("take-in")
@click.argument("phrase")
@click.argument("meaning", metavar="FINDING.STATE|SYMPTOM|HAZARD")
@click.option("--language", type=click.Choice(["en", "es"]), default="en", show_default=True)
@click.option("--answer", is_flag=True, help="Said in reply to its question; alone it says nothing.")
def take_in(phrase: str, meaning: str, language: str, *, answer: bool) -> None:
    """Put PHRASE among the wordings of a meaning. Then `helpline kb check`, and `kb compare` for what is read otherwise."""
    bench = Bench(our_folder())
    named = bench.named(meaning)
    if named.kind not in ("finding", "symptom", "hazard"):
        raise RequestError(f"a {named.kind} has no sayings", "name a finding's state, a symptom or a hazard")
    if named.state is None and has_states(bench, named):
        raise RequestError(f"`{meaning}` has several states", f"write which one: `{meaning}.STATE`")
    how: How = "answer" if answer else "said"
    path, text = taken_in(bench, named, phrase.strip(), cast("Language", language), how)
    path.write_text(text, encoding="utf-8")
    click.echo(f"taken into {shown_path(path.resolve())}; now `helpline kb check`")


def _unread_of_cases(*, demo: bool) -> list[Unread]:
    words = unread_words(open_house(demo=demo).helpline.house)
    return [Unread(text=one.text, language=one.language, check=one.check) for one in words]


def _unread_in(knowledge: Knowledge, paths: tuple[Path, ...]) -> Iterator[Unread]:
    try:
        labelled = texts_of(set_files(paths))
    except (OSError, ValueError, KeyError) as error:
        mend = "name sets as in tests/people, one JSON object a line"
        raise RequestError(f"not labelled texts: {error}", mend) from error
    for one in labelled:
        known = one.about is not None and one.about in knowledge.checks
        question = open_question(knowledge, one.about, one.language) if known and one.about else None
        reading = read(knowledge, one.text, about=question, language=one.language)
        for unread in reading.unread:
            yield Unread(text=unread.text, language=one.language, check=one.about if known else None)


def _told(group: Group) -> Iterator[str]:
    others = group.phrases[1 : 1 + SHOWN]
    asked = f", asked {group.check}" if group.check else ""
    yield f'{group.count:>4} × "{group.phrases[0]}" ({group.language}{asked})'
    if others:
        yield f"       also: {'; '.join(others)}{' …' if len(group.phrases) > 1 + SHOWN else ''}"
    if group.near is None:
        yield "       like nothing that is known"
        return
    near = group.near
    meaning = f"{near.id}.{near.state}" if near.state else f"{near.kind}:{near.id}"
    yield f'       nearest: {meaning} ("{near.words}", {near.likeness:.0f} of 100)'
    answer = " --answer" if group.check and near.kind == "finding" else ""
    language = "" if group.language == "en" else f" --language {group.language}"
    yield f"       take in: helpline kb take-in {json.dumps(group.phrases[0], ensure_ascii=False)} {meaning}{language}{answer}"
