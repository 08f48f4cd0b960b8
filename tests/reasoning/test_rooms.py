"""Belief and choice as a grower meets them: change after a fix, the past, what hides, what is asked again, why."""

import itertools
from dataclasses import replace

import numpy as np
import pytest

from assistant.reasoning import (
    AskCheck,
    Explain,
    FixTried,
    HandOver,
    Situation,
    TryFix,
    ask_minutes,
    choose,
    complained,
    conflict,
    evidence_table,
    found,
    open_checks,
    open_fixes,
    rank,
    weigh,
    why_question,
)
from assistant.reasoning.costs import TEXT_MINUTES, TOOL_MINUTES, WALK_MINUTES
from assistant.reasoning.evidence import Evidence
from kb.compiling import SHARES, Compiled, Shares, compile_, finding_node, symptom_node
from kb.ids import CauseId, CheckId, FindingId, FixId, QuantityId, StateId, SymptomId
from kb.likelihood import HOW_RIGHT
from kb.schema import Sum
from tests.reasoning.bases import a_cause, a_check, a_finding, a_fix, a_symptom, compiled_of, knowledge_of


def a_room() -> Compiled:
    """A made-up room: a clogged filter, a matted outdoor coil, a leaking door, gas gone, and two that are no fault."""
    findings = [
        a_finding("filter", {"clean": 0.8, "clogged": 0.1}, normal="clean"),
        a_finding("outdoor_coil", {"clean": 0.8, "matted": 0.1}, normal="clean"),
        a_finding("airflow", {"strong": 0.9, "weak": 0.1}, normal="strong"),
        a_finding("ice", {"none": 0.8, "patchy": 0.1, "solid": 0.05}, normal="none"),
        a_finding("door", {"tight": 0.8, "leaks": 0.15}, normal="tight"),
        a_finding("tripped", {"never": 0.9, "yes": 0.1}, normal="never", history=True),
        a_finding("trend", {"falling": 0.6, "standing": 0.3, "rising": 0.1}, normal="falling", lasts=240),
    ]
    causes = [
        a_cause(
            "filter_clogged",
            {
                "filter": {"clogged": "nearly always"},
                "airflow": {"weak": "usually"},
                "ice": {"solid": "often"},
            },
            ["clean_filter"],
            complaints={"too_warm": "usually"},
        ),
        a_cause(
            "coil_matted",
            {
                "outdoor_coil": {"matted": "nearly always"},
                "tripped": {"yes": "sometimes"},
                "trend": {"standing": "often"},
            },
            ["brush_coil"],
            complaints={"too_warm": "usually"},
        ),
        a_cause(
            "door_leaks", {"door": {"leaks": "nearly always"}, "ice": {"patchy": "often"}}, ["mend_door"]
        ),
        a_cause(
            "low_gas",
            {"ice": {"patchy": "usually"}, "airflow": {"strong": 0.9}},
            ["call"],
            sealed_circuit=True,
            how_common="rare",
        ),
        a_cause(
            "restricted", {"ice": {"patchy": "often"}}, ["call_too"], sealed_circuit=True, how_common="rare"
        ),
        a_cause(
            "first_cooldown", {"trend": {"falling": "nearly always"}}, ["explain_cooldown"], kind="normal"
        ),
    ]
    fixes = [
        a_fix("clean_filter", touches=["filter", "airflow", "ice"], verify={"after_hours": 3}),
        a_fix("brush_coil", minutes=30, unless={"outdoor_coil": ["clean"]}),
        a_fix("mend_door", minutes=40),
        a_fix("call", who="refrigeration trade"),
        a_fix("call_too", who="refrigeration trade"),
        a_fix("explain_cooldown", who="nobody"),
    ]
    checks = [
        *(a_check(f.finding, minutes=2) for f in findings if f.finding != "outdoor_coil"),
        a_check(
            "outdoor_coil", minutes=3, effort={"minutes": 3, "where": "outside", "tools": ["flashlight"]}
        ),
    ]
    symptoms = [a_symptom("too_warm"), a_symptom("iced_up", same_as={"ice": "solid"})]
    return compiled_of(
        knowledge_of(findings=findings, causes=causes, fixes=fixes, checks=checks, symptoms=symptoms), SHARES
    )


def seen(
    finding: str, state: str, *, epoch: int = 0, check: str | None = "", at_minutes: float = 0.0
) -> Evidence:
    through = f"look_at_{finding}" if check == "" else check
    return found(
        FindingId(finding),
        {StateId(state): 1.0},
        check=CheckId(through) if through else None,
        epoch=epoch,
        at_minutes=at_minutes,
    )


TOO_WARM = complained(SymptomId("too_warm"))
FILTER, COIL, DOOR, GAS = (CauseId(c) for c in ("filter_clogged", "coil_matted", "door_leaks", "low_gas"))


def test_finding_the_first_cause_does_not_end_the_search_when_the_number_has_not_moved() -> None:
    both = [TOO_WARM, seen("filter", "clogged"), seen("outdoor_coil", "matted")]
    before = weigh(a_room(), both)

    after = weigh(a_room(), both, [FixTried(fix=FixId("clean_filter"), epoch=0, worked=0.05)])

    assert after.of(COIL) > before.of(COIL) > 0.3
    assert after.of(FILTER) < 0.25 < before.of(FILTER)


def test_a_fix_that_held_leaves_nothing_at_work() -> None:
    belief = weigh(
        a_room(),
        [TOO_WARM, seen("filter", "clogged")],
        [FixTried(fix=FixId("clean_filter"), epoch=0, worked=0.97)],
    )

    assert belief.mended > 0.8
    assert belief.of(FILTER) < 0.05


def test_what_is_seen_after_a_fix_is_a_change_not_a_correction() -> None:
    fixed = [FixTried(fix=FixId("clean_filter"), epoch=0)]
    first = [TOO_WARM, seen("filter", "clogged"), seen("ice", "solid")]

    clean_now = weigh(
        a_room(), [*first, seen("filter", "clean", epoch=1), seen("ice", "none", epoch=1)], fixed
    )
    iced_again = weigh(
        a_room(), [*first, seen("filter", "clogged", epoch=1), seen("ice", "solid", epoch=1)], fixed
    )

    assert clean_now.mended > 0.7
    assert clean_now.of(FILTER) < 0.05
    assert iced_again.of(FILTER) > 0.8  # it was done badly, or it clogged again


def test_the_past_is_not_unmade_by_a_fix() -> None:
    # the breaker tripped while the coil was matted; told only after the coil was brushed, it still speaks for the coil
    fixed = [FixTried(fix=FixId("brush_coil"), epoch=0)]
    early = weigh(a_room(), [seen("tripped", "yes", epoch=0)], fixed)
    late = weigh(a_room(), [seen("tripped", "yes", epoch=1)], fixed)

    assert late.weights == pytest.approx(early.weights, abs=1e-15)


def test_a_value_older_than_it_lasts_and_a_new_one_are_two_facts() -> None:
    morning, noon = seen("trend", "standing"), seen("trend", "standing", at_minutes=300)
    again_at_once = seen("trend", "standing", at_minutes=5)

    once, twice, repeated = (
        weigh(a_room(), evidence).of(COIL)
        for evidence in ([morning], [morning, noon], [morning, again_at_once])
    )

    assert once < repeated < twice


def test_saying_the_same_thing_twice_is_not_twice_the_evidence() -> None:
    once = weigh(a_room(), [seen("filter", "clogged")]).of(FILTER)
    twice = weigh(a_room(), [seen("filter", "clogged"), seen("filter", "clogged", at_minutes=3)]).of(FILTER)
    by_two_ways = weigh(a_room(), [seen("filter", "clogged"), seen("filter", "clogged", check=None)]).of(
        FILTER
    )

    assert once < twice < by_two_ways


def test_a_complaint_that_is_another_name_for_a_finding_counts_once() -> None:
    iced = [seen("ice", "solid")]

    assert weigh(a_room(), [*iced, complained(SymptomId("iced_up"))]).weights == pytest.approx(
        weigh(a_room(), iced).weights
    )
    assert weigh(a_room(), [complained(SymptomId("iced_up"))]).of(FILTER) > weigh(a_room(), []).of(FILTER)


def test_of_findings_that_tell_the_same_story_only_the_most_telling_counts() -> None:
    findings = [
        a_finding(f, {"no": 0.9, "yes": 0.1}, normal="no", group="same numbers") for f in ("strong", "weak")
    ]
    causes = [
        a_cause("a", {"strong": {"yes": "nearly always"}, "weak": {"yes": "sometimes"}}),
        a_cause("b", {}),
    ]
    compiled = compiled_of(knowledge_of(findings=findings, causes=causes))

    both = weigh(compiled, [seen("strong", "yes"), seen("weak", "yes")])

    assert both.weights == pytest.approx(weigh(compiled, [seen("strong", "yes")]).weights)


def test_a_cause_cannot_be_seen_behind_the_one_that_hides_it() -> None:
    findings = [a_finding("coil", {"clean": 0.9, "dirty": 0.1}, normal="clean")]
    causes = [
        a_cause("ice", {}, hides=["dirt"]),
        a_cause("dirt", {"coil": {"dirty": "nearly always"}}),
        a_cause("leak", {}),
    ]
    compiled = compiled_of(knowledge_of(findings=findings, causes=causes), SHARES)
    looked = weigh(compiled, [seen("coil", "clean")])
    rows = {
        (int(a), int(b)): w
        for a, b, w in zip(looked.hypotheses.first, looked.hypotheses.second, looked.weights, strict=True)
    }
    dirt, ice, leak = (compiled.causes.index(CauseId(c)) for c in ("dirt", "ice", "leak"))

    assert rows[dirt, ice] > 5 * rows[dirt, leak]  # clean to the eye says nothing against dirt under ice


def test_something_else_wins_when_nothing_fits() -> None:
    odd = [
        seen("ice", "patchy"),
        seen("airflow", "weak"),
        seen("filter", "clean"),
        seen("door", "tight"),
        seen("tripped", "yes"),
    ]
    belief = weigh(a_room(), [*odd, seen("outdoor_coil", "clean"), seen("trend", "rising")])

    assert belief.something_else > max(belief.probability)


def test_the_odds_of_something_else_are_moved_by_the_published_conflict_and_nothing_else() -> None:
    # conf(e) of Jensen, Chamberlain, Nordahl & Jensen (UAI 1990) among the listed hypotheses, worked out here from posteriors
    compiled = a_room()
    evidence = [
        seen("ice", "patchy"),
        seen("airflow", "weak"),
        seen("filter", "clean"),
        seen("tripped", "yes"),
    ]
    before = odds_of_something_else(compiled, [])

    conf = np.log2(odds_of_something_else(compiled, evidence) / before)

    left = 1.0 - SHARES.something_else
    shares = Shares(
        nothing_wrong=SHARES.nothing_wrong / left, something_else=0.0, two_causes=SHARES.two_causes / left
    )
    listed = compile_(replace(compiled.knowledge, edition="listed"), shares)
    assert conf == pytest.approx(conflict(listed, evidence).bits, abs=1e-9)


def odds_of_something_else(compiled: Compiled, evidence: list[Evidence]) -> float:
    belief = weigh(compiled, evidence)
    return belief.something_else / (1.0 - belief.something_else)


def test_equipment_is_evidence_like_any_other() -> None:
    kinds = a_finding("equipment", {"window": 0.5, "mini_split": 0.3, "packaged": 0.2}, lasts="always")
    causes = [
        a_cause("cord", {}, equipment=["window"]),
        a_cause("head", {}, equipment=["mini_split"]),
        a_cause("filter", {}),
    ]
    compiled = compiled_of(knowledge_of(findings=[kinds], causes=causes))

    on_a_window_unit = weigh(
        compiled, [found(FindingId("equipment"), {StateId("window"): 1.0}, computed=True)]
    )

    assert on_a_window_unit.of(CauseId("head")) < 0.005
    # how common is meant among the causes of the equipment at hand: cord and filter are equally common there
    assert on_a_window_unit.of(CauseId("cord")) == pytest.approx(
        on_a_window_unit.of(CauseId("filter")), abs=1e-3
    )
    pairs = {
        (a, b)
        for a, b in zip(on_a_window_unit.hypotheses.first, on_a_window_unit.hypotheses.second, strict=True)
    }
    assert (
        len(pairs) == 1 + 3 + 0
    )  # no pairs here: the shares leave none (nothing and something else are one place)


def test_answers_that_fit_no_cause_are_asked_again_the_least_reliable_first() -> None:
    findings = [a_finding(f, {"no": 0.99, "yes": 0.01}, normal="no") for f in ("first", "second")]
    causes = [a_cause("a", {"first": {"yes": 0.97}}), a_cause("b", {"second": {"yes": 0.97}})]
    checks = [
        a_check("first", "sure", people_are_right="nearly always"),
        a_check("second", "unsure", people_are_right="usually"),
    ]
    compiled = compiled_of(knowledge_of(findings=findings, causes=causes, checks=checks))
    first = found(FindingId("first"), {StateId("yes"): 1.0}, check=CheckId("sure"))
    second = found(FindingId("second"), {StateId("yes"): 1.0}, check=CheckId("unsure"))

    assert conflict(compiled, [first, second]).unexplained_bits > 0.0
    assert conflict(compiled, [first, second]).ask_again == CheckId("unsure")
    assert conflict(compiled, [first]).ask_again is None


def test_how_likely_an_answer_is_mistaken_is_what_enumerating_all_that_can_be_so_says() -> None:
    shows = {"a": (0.95, 0.05), "b": (0.05, 0.95)}  # P(yes) to the first and to the second
    findings = [a_finding(f, {"no": 0.5, "yes": 0.5}, normal="no") for f in ("first", "second")]
    causes = [a_cause(c, {"first": {"yes": p}, "second": {"yes": q}}) for c, (p, q) in shows.items()]
    checks = [
        a_check("first", "sure", people_are_right="nearly always"),
        a_check("second", "unsure", people_are_right="often"),
    ]
    compiled = compiled_of(knowledge_of(findings=findings, causes=causes, checks=checks))
    right = {"sure": HOW_RIGHT["nearly always"], "unsure": HOW_RIGHT["often"]}
    all_ways = {
        (cause, first, second): (p if first else 1 - p)
        * (q if second else 1 - q)
        * (right["sure"] if first else 1 - right["sure"])
        * (right["unsure"] if second else 1 - right["unsure"])
        for cause, (p, q) in shows.items()
        for first, second in itertools.product((True, False), repeat=2)
    }
    mistaken = sum(p for (_, _, second), p in all_ways.items() if not second) / sum(all_ways.values())

    doubt = conflict(
        compiled,
        [
            found(FindingId("first"), {StateId("yes"): 1.0}, check=CheckId("sure")),
            found(FindingId("second"), {StateId("yes"): 1.0}, check=CheckId("unsure")),
        ],
    ).doubts[0]

    assert doubt.check == CheckId("unsure")
    assert doubt.mistaken == pytest.approx(mistaken, abs=1e-12)
    assert mistaken > 0.5


def test_the_question_says_which_causes_it_tells_apart() -> None:
    belief = weigh(a_room(), [TOO_WARM])

    splits = why_question(a_room(), belief, CheckId("look_at_filter"))

    told = {split.cause: split.state for split in splits}
    assert (told[FILTER], told[COIL]) == ("clogged", "clean")


def test_the_colleagues_table_adds_up_to_the_belief() -> None:
    evidence = [TOO_WARM, seen("filter", "clogged"), seen("ice", "solid")]
    belief = weigh(a_room(), evidence)

    table = evidence_table(a_room(), evidence, belief)

    column = table.causes.index(FILTER)
    alone = belief.hypotheses.alone(belief.causes.index(FILTER))
    total = table.prior_bits[column] + sum(row.bits[column] for row in table.rows) + table.conflict_bits
    assert 2**total == pytest.approx(belief.weights[alone], abs=1e-9)
    told = {row.about: row.bits[column] for row in table.rows}
    assert told[finding_node(FindingId("filter"))] > told[symptom_node(SymptomId("too_warm"))] > 0


def test_a_clogged_filter_is_cleaned_not_discussed() -> None:
    belief = weigh(a_room(), [TOO_WARM, seen("filter", "clogged"), seen("airflow", "weak")])
    room = a_room()

    choice = choose(room, belief, list(room.knowledge.checks), list(room.knowledge.fixes))

    assert choice == TryFix(fix=FixId("clean_filter"), cause=FILTER, probability=choice.probability)  # type: ignore[union-attr]  # a TryFix


def test_with_only_a_complaint_a_question_comes_first() -> None:
    room = a_room()
    choice = choose(room, weigh(room, [TOO_WARM]), list(room.knowledge.checks), list(room.knowledge.fixes))

    assert isinstance(choice, AskCheck)
    assert choice.ranked[0].score == max(ranked.score for ranked in choice.ranked)


def test_when_nothing_is_wrong_that_is_explained() -> None:
    room = a_room()
    fine = [
        seen("trend", "falling"),
        seen("filter", "clean"),
        seen("outdoor_coil", "clean"),
        seen("ice", "none"),
    ]
    fine += [seen("airflow", "strong"), seen("door", "tight"), seen("tripped", "never")]

    choice = choose(room, weigh(room, fine), [], list(room.knowledge.fixes))

    assert isinstance(choice, Explain)
    assert choice.fix == FixId("explain_cooldown")


def test_a_sealed_circuit_goes_to_the_trade_whatever_is_wrong_inside() -> None:
    room = a_room()
    cold = [seen("ice", "patchy"), seen("airflow", "strong"), seen("door", "tight"), seen("filter", "clean")]
    cold += [seen("outdoor_coil", "clean"), seen("tripped", "never"), seen("trend", "standing")]

    choice = choose(room, weigh(room, cold), [], open_fixes(room, {}, declined=(FixId("mend_door"),)))

    assert isinstance(choice, HandOver)
    assert (choice.reason, choice.who, choice.cause) == ("needs a person", "refrigeration trade", GAS)


def test_nothing_to_ask_and_nothing_to_try_goes_to_a_person() -> None:
    assert choose(a_room(), weigh(a_room(), []), [], []) == HandOver(
        reason="nothing left", who="desk", cause=COIL
    )


def test_without_patience_no_more_is_asked() -> None:
    room = a_room()

    choice = choose(
        room, weigh(room, [TOO_WARM]), list(room.knowledge.checks), list(room.knowledge.fixes), 0.0
    )

    assert not isinstance(choice, AskCheck)


def test_only_checks_that_make_sense_now_are_open() -> None:
    findings = [a_finding(f, {"no": 0.9, "yes": 0.1}, normal="no") for f in ("ice", "pattern", "ducts")]
    checks = [
        a_check("ice"),
        a_check("pattern", only_if={"ice": ["yes"]}),
        a_check("ducts", effort={"minutes": 1, "tools": ["screwdriver"]}, unless={"ice": ["yes"]}),
    ]
    compiled = compile_(knowledge_of(findings=findings, causes=[a_cause("a", {})], checks=checks))
    iced = {FindingId("ice"): StateId("yes")}

    assert open_checks(compiled, {}) == ("look_at_ducts", "look_at_ice")
    assert open_checks(compiled, iced) == ("look_at_pattern",)
    assert open_checks(compiled, {}, without_tools=["screwdriver"]) == ("look_at_ice",)
    assert open_checks(compiled, {}, laid_aside=[CheckId("look_at_ice")]) == ("look_at_ducts",)


def test_a_fix_that_a_finding_rules_out_is_not_open() -> None:
    known = {FindingId("outdoor_coil"): StateId("clean")}

    assert FixId("brush_coil") not in open_fixes(a_room(), known)
    assert FixId("brush_coil") in open_fixes(a_room(), {})


def test_a_number_competes_through_the_sum_that_it_feeds() -> None:
    level = a_finding("level", {"fine": 0.7, "above": 0.2}, normal="fine").model_copy(
        update={"sum": Sum.model_validate({"name": "room_above_target", "of": ["room_c", "target_c"]})}
    )
    causes = [a_cause("a", {"level": {"above": "nearly always"}}), a_cause("b", {})]
    checks = [
        a_check("level", "read_room", minutes=1, measures="room_c"),
        a_check("level", "read_target", minutes=2, measures="target_c"),
    ]
    compiled = compiled_of(knowledge_of(findings=[level], causes=causes, checks=checks))
    belief, both = weigh(compiled, []), [CheckId("read_room"), CheckId("read_target")]

    neither = {r.check: r.minutes for r in rank(compiled, belief, both)}
    target_known = {
        r.check: r.minutes
        for r in rank(compiled, belief, both[:1], known_quantities=[QuantityId("target_c")])
    }

    assert neither[both[0]] == neither[both[1]] == 3 + 2 * TEXT_MINUTES  # each needs the other
    assert target_known[both[0]] == 1 + TEXT_MINUTES
    assert rank(compiled, belief, both[:1]) == ()  # without a way to the target the sum is never done


def test_where_the_grower_stands_and_how_patient_they_are_makes_the_price() -> None:
    check = a_room().knowledge.checks[CheckId("look_at_outdoor_coil")]

    assert ask_minutes(check) == pytest.approx(TEXT_MINUTES + 3 + WALK_MINUTES + TOOL_MINUTES)
    assert ask_minutes(check, Situation(place="outside", at_hand=("flashlight",))) == pytest.approx(
        TEXT_MINUTES + 3
    )
    assert ask_minutes(check, Situation(patience=0.5)) == pytest.approx(2 * ask_minutes(check))


def test_a_state_that_the_finding_lacks_is_an_error_that_names_it() -> None:
    with pytest.raises(ValueError, match=r"finding:filter.*frozen"):
        weigh(a_room(), [seen("filter", "frozen")])
