"""Loading: what is taken, what is refused, and how a refusal reads."""

import shutil
import textwrap
from pathlib import Path
from typing import Any

import pytest

import kb
from kb.ids import CauseId, FindingId, StateId
from kb.loading import fill_shelf
from kb.problems import Problem
from tests.kb.small import put, write

FILTER = "room_ac/findings/filter.yaml"
CAUSE = "room_ac/causes/filter_clogged.yaml"


def problems_of(folder: Path) -> tuple[Problem, ...]:
    with pytest.raises(kb.KnowledgeError) as caught:
        kb.load(folder)
    return caught.value.problems


def only(folder: Path) -> Problem:
    (problem,) = problems_of(folder)
    return problem


def changed(folder: Path, **node: Any) -> Path:  # plain values as YAML gives them
    return write(folder, [node])


def test_a_whole_folder_becomes_nodes_by_id_in_order(tmp_path: Path) -> None:
    knowledge = kb.load(write(tmp_path))

    assert list(knowledge.causes) == ["filter_clogged", "indoor_coil_dirty"]
    assert list(knowledge.findings[FindingId("filter")].states) == ["clean", "dusty", "clogged"]
    assert set(knowledge.qualities) == {"clean", "dirty"}


def test_the_graph_says_what_leads_where_and_how_strongly(tmp_path: Path) -> None:
    graph = kb.load(write(tmp_path)).graph

    assert graph.nodes["cause:filter_clogged"] == {"kind": "cause"}
    assert graph.edges["symptom:too_warm", "cause:filter_clogged"] == {"role": "complains", "strength": 0.77}
    assert graph.edges["cause:filter_clogged", "finding:filter"] == {
        "role": "shows",
        "strengths": {"clogged": 0.92},
    }
    assert graph.edges["check:look_at_filter", "finding:filter"] == {"role": "finds"}
    assert graph.edges["cause:filter_clogged", "fix:clean_filter"] == {"role": "mends", "place": 0}
    assert graph.edges["fix:clean_filter", "finding:filter"] == {"role": "touches"}


def test_nothing_loaded_can_be_changed(tmp_path: Path) -> None:
    knowledge = kb.load(write(tmp_path))

    with pytest.raises(TypeError):
        del knowledge.causes[CauseId("filter_clogged")]  # type: ignore[attr-defined]  # what is tried here
    with pytest.raises(Exception, match="Frozen graph"):
        knowledge.graph.add_node("cause:mine")


# YAML 1.2 (yaml.org, 2009) §10.3.2: only true and false are truth values, and there are no sexagesimal numbers
@pytest.mark.parametrize("word", ["no", "off", "on", "yes", "12:30", "n", "2026-11-25", "0o"])
def test_words_that_older_yaml_reads_as_values_stay_words(word: str, tmp_path: Path) -> None:
    path = write(tmp_path) / FILTER
    path.write_text(path.read_text(encoding="utf-8").replace('"dusty"', word), encoding="utf-8")

    states = kb.load(tmp_path).findings[FindingId("filter")].states

    assert list(states) == ["clean", word, "clogged"]
    assert states[StateId(word)].en == (word,)


def test_the_same_words_are_the_same_edition_wherever_they_lie(tmp_path: Path) -> None:
    one, other = write(tmp_path / "one"), write(tmp_path / "other")
    path = other / FILTER
    path.write_bytes(path.read_bytes().replace(b"\n", b"\r\n"))

    assert kb.load(one).edition == kb.load(other).edition
    assert len(kb.load(one).edition) == 12


def test_another_word_is_another_edition(tmp_path: Path) -> None:
    one, other = (
        write(tmp_path / "one"),
        changed(tmp_path / "other", cause="filter_clogged", how_common="rare"),
    )

    assert kb.load(one).edition != kb.load(other).edition


def test_a_problem_reads_as_place_what_why_mend(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    page = "cause: filter_clogged\nmeans: {en: dirt, es: mugre}\nequipment: [window]\nhow_common: common\n"
    page += "shows:\n  filter: {cloged: nearly always}\nfixes: [clean_filter]\n"
    put(write(tmp_path / "kb"), CAUSE, page)
    monkeypatch.chdir(tmp_path)

    (problem,) = problems_of(Path("kb"))

    assert str(problem) == textwrap.dedent(
        """\
        kb/room_ac/causes/filter_clogged.yaml:6:12: error: `filter` has no state `cloged` [unknown-state]
           6 |   filter: {cloged: nearly always}
             |            ^^^^^^
          why:  no answer can ever give this state, so it could change nothing
          mend: write `clogged`; the states are clean, dusty, clogged (kb/room_ac/findings/filter.yaml:18)"""
    )


def test_every_fault_is_told_in_one_run(tmp_path: Path) -> None:
    write(
        tmp_path,
        [
            {"cause": "filter_clogged", "fixes": ["clean_filtr"], "how_common": "mostly"},
            {"cause": "indoor_coil_dirty", "fixes": ["brush_coil"], "hides": ["filter_cloged"]},
            {"fix": "clean_filter", "touches": ["filtr"]},
        ],
    )
    put(tmp_path, "room_ac/checks/spoilt.yaml", "check: [")

    assert sorted(problem.rule for problem in problems_of(tmp_path)) == [
        "broken-yaml",
        "unknown-cause",
        "unknown-finding",
        "unknown-fix",
        "unknown-word",
    ]


def test_a_page_with_a_fault_is_not_missed_by_those_that_name_it(tmp_path: Path) -> None:
    # the fix is refused for its own fault; the cause that names it is right
    assert only(changed(tmp_path, fix="clean_filter", who="customr")).rule == "unknown-word"


@pytest.mark.parametrize(
    ("text", "rule", "what", "line"),
    [
        ("", "empty-file", "the file is empty", None),
        ("# nothing yet\n", "empty-file", "the file is empty", None),
        ("- finding: filter\n", "not-a-mapping", "the page is a list", 1),
        ("filter\n", "not-a-mapping", "the page is one text", 1),
        ("finding: filter\n\tnormal: clean\n", "broken-yaml", "a tab stands where blanks belong", 2),
        ("finding: {en: a\nnormal: clean\n", "broken-yaml", "this { or [ is not closed", 1),
        ("means: {en: see: the filter, es: x}\n", "broken-yaml", "a colon stands inside a text", 1),
        ("means: see: the filter\n", "broken-yaml", "a second colon stands in one line", 1),
        ('means: "open\nnormal: clean\n', "broken-yaml", "this quote is not closed", 1),
        ("means: 'it's'\n", "broken-yaml", "a text goes on after its closing quote", 1),
        ("a: 1\nfinding\nb: 2\n", "broken-yaml", "a line has no colon", 2),
        ("a:\n  b: 1\n c: 2\n", "broken-yaml", "this line is indented like no line above it", 3),
        ("a: @x\n", "broken-yaml", "this sign cannot begin a text", 1),
        ("a: *x\n", "broken-yaml", "a star cannot begin a text", 1),
        ("a: [x, , y]\n", "broken-yaml", "nothing stands between two commas", 1),
        ("a: {b: c}}\n", "broken-yaml", "this } closes nothing", 1),
        ("a: 1\n---\nb: 2\n", "broken-yaml", "a second `---` begins another page", 2),
        ("a: \x07\n", "broken-yaml", "a sign that no text holds stands in the file", None),
        ("a: " + "[" * 90 + "]" * 90, "broken-yaml", "the brackets are nested too deep", 1),
        (
            "finding: filter\nfinding: filter\n",
            "doubled-key",
            "`finding` is written twice, first on line 1",
            2,
        ),
        ("finding: &f filter\n", "anchor", "an anchor hides what is written", 1),
        ("finding: !word filter\n", "tag", "the tag `!word` has no meaning", 1),
        ("? [finding]\n: filter\n", "key-not-word", "this key is not a word", 1),
        (b"finding: filter\x00", "not-text", "this is not a text file", None),
        (
            b"finding: filter\nen: espa\xf1ol\n",
            "wrong-encoding",
            "line 2 holds a byte that is not UTF-8",
            None,
        ),
        ("finding: filter".encode("utf-16"), "not-text", "this is not a text file", None),
    ],
)
def test_what_is_no_page_is_told_and_never_breaks_the_run(
    text: str | bytes, rule: str, what: str, line: int | None, tmp_path: Path
) -> None:
    put(write(tmp_path), "room_ac/findings/spoilt.yaml", text)

    problem = only(tmp_path)

    assert (problem.rule, problem.what, problem.line) == (rule, what, line)
    assert problem.why
    assert problem.mend


@pytest.mark.parametrize(
    ("change", "rule", "what", "mend"),
    [
        (
            {"how_common": "comon"},
            "unknown-word",
            "`comon` is not one of the words for `how_common`",
            "write `common`; the words are very common, common, uncommon, rare, very rare",
        ),
        (
            {"shows": {"filter": {"clogged": "mostly"}}},
            "unknown-word",
            "`mostly` is not one of the words for `clogged`",
            "write one of: nearly always, usually, often, sometimes, rarely, almost never, or a number",
        ),
        (
            {"shows": {"filter": {"clogged": 1.5}}},
            "out-of-range",
            "`1.5` is outside the range",
            "write a number less than 1, or one of: nearly always, usually, often, sometimes, rarely, almost never",
        ),
        ({"fixs": ["clean_filter"]}, "unknown-key", "`fixs` is no key of this cause", None),
        (
            {"fixes": "clean_filter"},
            "wrong-shape",
            "a list belongs here",
            "write it in brackets: [one, another]",
        ),
        (
            {"shows": ["filter"]},
            "wrong-shape",
            "keys with values belong here",
            "write them in braces: {key: value}",
        ),
        ({"means": {"en": "dirt", "es": 7}}, "wrong-shape", "a text belongs here", None),
        ({"means": {"en": "dirt", "es": ""}}, "wrong-shape", "an empty text stands here", None),
        (
            {"means": {"en": "dirt"}},
            "missing-language",
            "the Spanish text is missing",
            "write `es: …` beside the other",
        ),
        (
            {"means": {"en": "a", "es": "b", "fr": "c"}},
            "unknown-key",
            "`fr` is no key of this text",
            "the keys are en, es",
        ),
        ({"sealed_circuit": "maybe"}, "wrong-shape", "true or false belongs here", "write true or false"),
        (
            {"equipment": ["windows"]},
            "unknown-word",
            "`windows` is not one of the words for `equipment`",
            None,
        ),
        ({"fixes": ["clean_filtr"]}, "unknown-fix", "there is no fix `clean_filtr`", None),
        ({"complaints": {"to_warm": "often"}}, "unknown-symptom", "there is no symptom `to_warm`", None),
        (
            {"shows": {"filtre": {"clogged": "often"}}},
            "unknown-finding",
            "there is no finding `filtre`",
            None,
        ),
        ({"hides": ["nothing_like_it"]}, "unknown-cause", "there is no cause `nothing_like_it`", None),
        ({"examples": [{"said": {"filter": "mated"}, "fix": "clean_filter"}]}, "unknown-state", None, None),
        ({"examples": [{"said": {"filter": "clogged"}, "ask": ["look"]}]}, "unknown-check", None, None),
    ],
)
def test_what_a_cause_cannot_say_is_told(
    change: dict[str, Any], rule: str, what: str | None, mend: str | None, tmp_path: Path
) -> None:
    problem = only(changed(tmp_path, cause="filter_clogged", **change))

    assert problem.rule == rule
    assert what in {None, problem.what}
    assert mend in {None, problem.mend}
    assert problem.line is not None


@pytest.mark.parametrize(
    ("node", "rule"),
    [
        ({"finding": "filter", "normal": "cleen"}, "unknown-state"),
        ({"finding": "filter", "background": {"mated": "rarely"}}, "unknown-state"),
        ({"finding": "filter", "sayings": {"mated": {"en": ["full of fluff"]}}}, "unknown-state"),
        ({"finding": "filter", "things": ["filtre"]}, "unknown-thing"),
        ({"finding": "filter", "lasts": "for ever"}, "unknown-word"),
        ({"finding": "filter", "lasts": 0}, "out-of-range"),
        ({"finding": "temperature", "sum": {"name": "target_level", "of": ["rom_c"]}}, "unknown-quantity"),
        ({"check": "look_at_filter", "finds": "filtr"}, "unknown-finding"),
        ({"check": "look_at_filter", "offers": ["clean", "mated"]}, "unknown-state"),
        ({"check": "look_at_filter", "only_if": {"indoor_coil": ["iced"]}}, "unknown-state"),
        ({"check": "look_at_filter", "unless": {"indoor_coi": ["dirty"]}}, "unknown-finding"),
        ({"check": "look_at_filter", "effort": {"minutes": 0}}, "out-of-range"),
        ({"check": "look_at_filter", "measures": "room"}, "unknown-quantity"),
        ({"fix": "clean_filter", "works_for": {"filter_dirty": "usually"}}, "unknown-cause"),
        ({"fix": "clean_filter", "verify": {"after_hours": 1, "ask": "look"}}, "unknown-check"),
        (
            {
                "fix": "clean_filter",
                "verify": {"after_hours": 1, "ask": "look_at_filter", "expect": ["white"]},
            },
            "unknown-state",
        ),
        ({"symptom": "too_warm", "same_as": {"filter": "hot"}}, "unknown-state"),
        ({"symptom": "too_warm", "says": [{"things": ["coil"], "is": ["warm"]}]}, "unknown-quality"),
        ({"hazard": "shut_in", "becomes": "shut_in_worse"}, "unknown-hazard"),
        ({"hazard": "shut_in", "level": "dangerous"}, "unknown-word"),
        ({"quality": "clean", "opposite": "dirtyy"}, "unknown-quality"),
        ({"quantity": "room_c", "kind": "heat"}, "unknown-word"),
        ({"thing": "Filter"}, "bad-id"),
    ],
)
def test_what_other_nodes_cannot_say_is_told(node: dict[str, Any], rule: str, tmp_path: Path) -> None:
    problem = only(write(tmp_path, [node]))

    assert problem.rule == rule
    assert problem.line is not None


def test_a_file_is_named_after_what_it_is_about(tmp_path: Path) -> None:
    path = write(tmp_path) / CAUSE
    path.rename(path.with_name("dirty_filter.yaml"))

    problem = only(tmp_path)

    assert (problem.rule, problem.mend) == (
        "file-name",
        "name the file `filter_clogged.yaml`, or write `cause: dirty_filter`",
    )


def test_an_id_stands_once_over_all_families(tmp_path: Path) -> None:
    shutil.copy(write(tmp_path) / CAUSE, put(tmp_path, "shared/causes/filter_clogged.yaml", ""))

    assert only(tmp_path).rule == "doubled-id"


@pytest.mark.parametrize(
    "relative", ["filter.yaml", "room_ac/fliters/x.yaml", "words/things.yml", "words/verbs.yaml"]
)
def test_a_file_where_no_knowledge_lies_is_told(relative: str, tmp_path: Path) -> None:
    put(write(tmp_path), relative, "a: 1")

    assert only(tmp_path).rule == "misplaced-file"


def test_other_files_and_hidden_ones_are_left_alone(tmp_path: Path) -> None:
    write(tmp_path)
    put(tmp_path, "README.md", "about")
    put(tmp_path, ".draft/room_ac/causes/x.yaml", "[")
    put(tmp_path, "room_ac/causes/.x.yaml", "[")

    assert kb.load(tmp_path)


def test_a_folder_that_is_not_there_is_told(tmp_path: Path) -> None:
    assert only(tmp_path / "nowhere").rule == "missing-folder"


def test_a_folder_without_knowledge_is_told(tmp_path: Path) -> None:
    assert only(tmp_path).rule == "empty-folder"


def test_a_problem_knows_its_row_for_a_program(tmp_path: Path) -> None:
    row = only(changed(tmp_path, cause="filter_clogged", fixes=["clean_filtr"])).as_row()

    assert (row["severity"], row["rule"]) == ("error", "unknown-fix")
    assert isinstance(row["line"], int)


def test_parsed_pages_are_kept_by_content_and_never_believed_for_another(tmp_path: Path) -> None:
    folder, store = write(tmp_path / "kb"), tmp_path / "store" / "parsed.json"

    first = kb.load(folder, store=store)
    assert store.exists()
    fill_shelf.cache_clear()  # another process would start without what this one remembers
    assert kb.load(folder, store=store).causes == first.causes

    write(folder, [{"cause": "filter_clogged", "how_common": "rare"}])
    assert kb.load(folder, store=store).causes[CauseId("filter_clogged")].how_common == "rare"


@pytest.mark.parametrize("content", ["", "{", "[]", '{"form": 0, "files": {}}', '{"form": 1}'])
def test_a_store_that_cannot_be_read_costs_time_and_nothing_else(content: str, tmp_path: Path) -> None:
    store = put(tmp_path, "parsed.json", content)
    fill_shelf.cache_clear()

    assert kb.load(write(tmp_path / "kb"), store=store)


def test_places_are_right_though_the_pages_came_from_the_store(tmp_path: Path) -> None:
    folder, store = (
        changed(tmp_path / "kb", cause="filter_clogged", fixes=["clean_filtr"]),
        tmp_path / "parsed.json",
    )
    first = problems_of(folder)
    with pytest.raises(kb.KnowledgeError):
        kb.load(folder, store=store)
    fill_shelf.cache_clear()

    with pytest.raises(kb.KnowledgeError) as caught:
        kb.load(folder, store=store)

    assert caught.value.problems == first
