"""An id changes in every file at once, remarks stay, and a trail leads from the old id to the new one."""

import shutil
from pathlib import Path

import pytest

import kb
from kb.errors import KnowledgeError, RequestError
from kb.files import PACKAGED
from kb.linting import accept_spanish, check
from kb.loading import look
from kb.mentions import mentions
from kb.references import references
from kb.renaming import Bench
from kb.schema import Check
from tests.kb.small import put, write

REMARKED = """# how dirt stops the air
cause: filter_clogged   # found on every second visit
means:
  en: a dirty filter is choking the air
  es: el filtro sucio ahoga el aire
equipment: [window, through_wall]
how_common: common
complaints: {too_warm: usually}
shows:
  filter: {clogged: nearly always}   # counted in two barns
fixes: [clean_filter]
examples:
  - said: {filter: clogged}
    fix: clean_filter
"""
CAUSE = "room_ac/causes/filter_clogged.yaml"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    put(write(tmp_path), CAUSE, REMARKED)
    accept_spanish(tmp_path)
    return tmp_path


def rename(folder: Path, old: str, new: str) -> int:
    bench = Bench(folder)
    changes = bench.rename(bench.named(old), new)
    changes.write(folder)
    return changes.places


def retire(folder: Path, old: str, instead: str | None = None) -> None:
    bench = Bench(folder)
    bench.retire(bench.named(old), why="two were one", since="2026-11-25", instead=instead).write(folder)


def test_every_reference_that_the_loader_follows_is_a_mention() -> None:
    # two independent ways to the same places: the list by hand in kb.references, and the types of the schema
    shelf, _, _ = look()
    finds = {id_: node.finds for id_, node in shelf.nodes["check"].items() if isinstance(node, Check)}
    missed = []
    for kind, nodes in shelf.nodes.items():
        for id_, node in nodes.items():
            told = {(one.at, one.kind, one.id, one.state_of) for one in mentions(node, finds)}
            for one in references(kind, node, shelf.nodes):
                of_state = (one.state_at, "finding", str(one.state), one.id)
                wanted = (one.at, one.kind, one.id, None) if one.state is None else of_state
                missed += [] if wanted in told else [(kind, id_, wanted)]

    assert missed == []


def test_a_finding_is_renamed_in_every_file_and_only_its_name_changes(folder: Path) -> None:
    places = rename(folder, "finding:filter", "air_filter")

    knowledge = kb.load(folder)
    assert places == 5  # its own name, the check, the cause twice, the fix that touches it
    assert "air_filter" in knowledge.findings
    assert knowledge.checks[kb.ids.CheckId("look_at_filter")].finds == "air_filter"
    assert (folder / CAUSE).read_text(encoding="utf-8") == REMARKED.replace(
        "  filter: {clogged", "  air_filter: {clogged"
    ).replace("{filter: clogged}", "{air_filter: clogged}")
    assert knowledge.things.keys() >= {"filter"}  # the thing of the same name is another matter


def test_a_renamed_id_leads_on_however_often_it_is_renamed(folder: Path) -> None:
    rename(folder, "cause:filter_clogged", "filter_full")
    rename(folder, "filter_full", "filter_choked")

    trail = kb.load(folder).trail
    assert trail.now("cause", "filter_clogged") == "filter_choked"
    assert trail.now("cause", "filter_full") == "filter_choked"
    page = (folder / "room_ac/causes/filter_choked.yaml").read_text(encoding="utf-8")
    assert "was: [filter_clogged, filter_full]\n" in page
    assert "# how dirt stops the air" in page
    assert not (folder / CAUSE).exists()


def test_a_name_taken_back_is_no_longer_an_old_one(folder: Path) -> None:
    rename(folder, "cause:filter_clogged", "filter_full")
    rename(folder, "filter_full", "filter_clogged")

    assert kb.load(folder).trail.now("cause", "filter_full") == "filter_clogged"
    assert check(folder) == ()


def test_a_state_is_renamed_with_all_that_speaks_of_it(folder: Path) -> None:
    put(
        folder,
        "heard/en/findings/filter.txt",
        "[clogged]\nblack as soot\n[clogged as an answer]\npretty bad\n[clean]\nfine\n",
    )

    rename(folder, "filter.clogged", "packed")

    knowledge = kb.load(folder)
    filter_ = knowledge.findings[kb.ids.FindingId("filter")]
    assert list(filter_.states) == ["clean", "dusty", "packed"]
    assert filter_.background == {"packed": "rarely"}
    assert knowledge.trail.state_now("filter", "clogged") == "packed"
    heard = (folder / "heard/en/findings/filter.txt").read_text(encoding="utf-8")
    assert heard == "[packed]\nblack as soot\n[packed as an answer]\npretty bad\n[clean]\nfine\n"


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("finding:filter", "air_filter"),
        ("thing:filter", "mesh"),
        ("filter.clogged", "packed"),
        ("too_warm", "warm"),
    ],
)
def test_after_a_renaming_nothing_is_left_to_vouch_for(folder: Path, old: str, new: str) -> None:
    assert check(folder) == ()
    rename(folder, old, new)
    assert check(folder) == ()


def test_phrases_move_with_their_finding(folder: Path) -> None:
    put(folder, "heard/es/findings/filter.txt", "[clogged]\nbien tapado\n")

    rename(folder, "finding:filter", "air_filter")

    assert (folder / "heard/es/findings/air_filter.txt").exists()
    assert not (folder / "heard/es/findings/filter.txt").exists()


def test_a_retired_fix_leaves_a_tombstone_and_its_place_to_another(folder: Path) -> None:
    retire(folder, "clean_filter", instead="brush_indoor_coil")

    knowledge = kb.load(folder)
    assert knowledge.trail.now("fix", "clean_filter") == "brush_indoor_coil"
    assert knowledge.causes[kb.ids.CauseId("filter_clogged")].fixes == ("brush_indoor_coil",)
    assert not (folder / "room_ac/fixes/clean_filter.yaml").exists()
    assert check(folder) == ()


def test_what_is_retired_for_nothing_goes_from_every_list(folder: Path) -> None:
    retire(folder, "too_warm")

    cause = kb.load(folder).causes[kb.ids.CauseId("filter_clogged")]
    assert cause.complaints == {}
    assert "complaints: {}" in (folder / CAUSE).read_text(encoding="utf-8")
    assert kb.load(folder).trail.now("symptom", "too_warm") is None


def test_what_others_cannot_do_without_is_not_retired(folder: Path) -> None:
    before = {path: path.read_bytes() for path in folder.rglob("*.yaml")}

    with pytest.raises(KnowledgeError) as refused:
        retire(folder, "finding:filter")

    assert {problem.rule for problem in refused.value.problems} >= {"missing-key"}
    assert {path: path.read_bytes() for path in folder.rglob("*.yaml")} == before


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("filtre", "x", "write `filter`"),
        ("filter", "x", "a finding and a thing"),
        ("finding:filter", "indoor_coil", "already"),
        ("finding:filter", "Air Filter", "no id"),
        ("filter.cloged", "x", "write `filter.clogged`"),
    ],
)
def test_a_slip_is_told_with_the_way_out(folder: Path, old: str, new: str, said: str) -> None:
    with pytest.raises(RequestError) as refused:
        rename(folder, old, new)

    assert said in str(refused.value)


def test_a_hazard_is_never_retired_for_nothing(folder: Path) -> None:
    with pytest.raises(RequestError, match="would forget it"):
        retire(folder, "shut_in")


def test_an_id_deleted_by_hand_is_missed_until_it_has_a_trail(folder: Path) -> None:
    (folder / CAUSE).unlink()

    assert "vanished-id" in {problem.rule for problem in check(folder)}
    accept_spanish(folder)
    assert "vanished-id" in {problem.rule for problem in check(folder)}

    put(folder, "retired.yaml", 'cause:\n  filter_clogged: {since: 2026-11-25, why: "never seen"}\n')
    assert "vanished-id" not in {problem.rule for problem in check(folder)}


@pytest.mark.parametrize(
    ("stone", "what"),
    [
        ("cause: {filter_clogged: {since: 2026-11-25, why: w}}", "said to be gone, and is there"),
        ("cause: {old: {instead: nowhere, since: 2026-11-25, why: w}}", "no cause `nowhere`"),
        ("causes: {old: {since: 2026-11-25, why: w}}", "no kind `causes`"),
        ("hazard: {old: {since: 2026-11-25, why: w}}", "nothing takes the place of the hazard"),
    ],
)
def test_a_tombstone_that_misleads_is_told(folder: Path, stone: str, what: str) -> None:
    put(folder, "retired.yaml", stone + "\n")

    (problem,) = check(folder)

    assert problem.rule == "broken-trail"
    assert what in problem.what


@pytest.mark.parametrize(
    "old", ["finding:filter", "filter.clogged", "look_at_filter", "clean_filter", "thing:filter"]
)
def test_the_real_knowledge_survives_a_renaming(tmp_path: Path, old: str) -> None:
    folder = Path(shutil.copytree(PACKAGED, tmp_path / "knowledge"))

    assert rename(folder, old, "some_new_name") > 0

    assert [
        p for p in check(folder) if p.severity == "error" and p.rule in ("stale-spanish", "vanished-id")
    ] == []
