"""From words to arrays: the rules of filling, each with its example."""

import numpy as np
import pytest

from assistant.reasoning.hypotheses import hypotheses_of
from kb.compiling import COMPLAINED, Shares, background, compile_, finding_node, row, symptom_node
from kb.ids import CauseId, FindingId, StateId, SymptomId
from kb.likelihood import SHARE_NOTHING_WRONG, SHARE_SOMETHING_ELSE, SHARE_TWO_CAUSES
from tests.reasoning.bases import a_cause, a_finding, a_symptom, compiled_of, knowledge_of

FILTER = a_finding("filter", {"clean": 0.0, "dusty": "sometimes", "clogged": "almost never"}, normal="clean")
STATES = tuple(FILTER.states)


def test_the_normal_state_takes_what_the_background_leaves() -> None:
    assert background(FILTER) == pytest.approx([1 - 0.30 - 0.03, 0.30, 0.03])


def test_a_state_without_a_word_is_almost_never_seen_and_never_impossible() -> None:
    finding = FILTER.model_copy(update={"background": {}})

    assert background(finding) == pytest.approx([0.97, 0.015, 0.015])


def test_where_nothing_is_normal_silent_states_share_the_rest() -> None:
    kinds = a_finding("kind", {"a": 0.4, "b": 0.3, "c": 0.3}).model_copy(
        update={"background": {StateId("a"): 0.4}}
    )

    assert background(kinds) == pytest.approx([0.4, 0.3, 0.3])


def test_words_leave_the_rest_in_proportion_to_the_background() -> None:
    told = row(STATES, {StateId("clogged"): "usually"}, background(FILTER))

    assert told[2] == pytest.approx(0.77)
    assert told[0] / told[1] == pytest.approx(0.67 / 0.30)
    assert told.sum() == pytest.approx(1.0)


def test_words_on_one_finding_always_leave_something() -> None:
    told = row(
        STATES, {StateId("clogged"): "nearly always", StateId("dusty"): "sometimes"}, background(FILTER)
    )

    assert told[0] == pytest.approx(0.03)
    assert told[2] / told[1] == pytest.approx(0.92 / 0.30)


def test_what_a_cause_does_not_mention_is_not_stored() -> None:
    causes = [a_cause("a", {"filter": {"clogged": "usually"}}), a_cause("b", {})]
    shows = compile_(knowledge_of(findings=[FILTER], causes=causes)).shows[finding_node(FindingId("filter"))]

    assert shows.causes.tolist() == [0]


def test_fixed_shares_are_kept_whatever_the_number_of_causes() -> None:
    causes = [a_cause(f"c{i}", {}, how_common="rare" if i else "very common") for i in range(9)]
    causes.append(a_cause("fine", {}, kind="normal"))
    hypotheses = hypotheses_of(compile_(knowledge_of(findings=[FILTER], causes=causes)))
    n, prior = hypotheses.nobody, hypotheses.prior

    assert prior[hypotheses.something_else] == pytest.approx(SHARE_SOMETHING_ELSE)
    assert prior[n + 2 :].sum() == pytest.approx(SHARE_TWO_CAUSES)
    assert prior[1 : n + 1][hypotheses.compiled.normal].sum() == pytest.approx(SHARE_NOTHING_WRONG)
    assert prior[1] / prior[2] == pytest.approx(16.0)
    assert len(prior) == 1 + 10 + 1 + 9 * 8 // 2  # mended, alone, something else, every pair of faults


def test_a_kind_without_members_leaves_its_share_to_the_others() -> None:
    hypotheses = hypotheses_of(compile_(knowledge_of(findings=[FILTER], causes=[a_cause("only", {})])))

    left = 1.0 - SHARE_SOMETHING_ELSE
    assert hypotheses.prior.tolist() == pytest.approx([0.0, left, SHARE_SOMETHING_ELSE])


def test_causes_of_different_equipment_never_meet() -> None:
    causes = [
        a_cause("cord", {}, equipment=["window"]),
        a_cause("head", {}, equipment=["mini_split"]),
        a_cause("door", {}),
    ]
    hypotheses = hypotheses_of(compile_(knowledge_of(findings=[FILTER], causes=causes)))
    names = hypotheses.compiled.causes
    pairs = {(names[a], names[b]) for a, b in zip(hypotheses.first[5:], hypotheses.second[5:], strict=True)}

    assert pairs == {("cord", "door"), ("door", "head")}


def test_a_complaint_that_names_a_state_follows_the_causes_that_show_it() -> None:
    symptom = a_symptom("choked", same_as={"filter": "clogged"}, background=0.02)
    causes = [
        a_cause("dirt", {"filter": {"clogged": "nearly always"}}),
        a_cause("told", {"filter": {"clogged": "usually"}}, complaints={"choked": "sometimes"}),
        a_cause("door", {}),
    ]
    compiled = compile_(knowledge_of(findings=[FILTER], causes=causes, symptoms=[symptom]))
    shows = compiled.shows[symptom_node(SymptomId("choked"))]
    by_cause = {compiled.causes[c]: p[0] for c, p in zip(shows.causes, shows.strength, strict=True)}

    assert shows.states[0] == COMPLAINED
    assert by_cause[CauseId("dirt")] == pytest.approx(0.92 * 0.02 / 0.03)  # two in three who have it say so
    assert by_cause[CauseId("told")] == pytest.approx(0.30)  # the author's word wins
    assert CauseId("door") not in by_cause
    assert shows.group == compiled.shows[finding_node(FindingId("filter"))].group


def test_the_same_knowledge_is_compiled_once() -> None:
    knowledge = knowledge_of(findings=[FILTER], causes=[a_cause("a", {})])

    assert compile_(knowledge) is compile_(knowledge)
    assert compile_(knowledge) is not compile_(knowledge, Shares(two_causes=0.0))


def test_arrays_cannot_be_changed_by_mistake() -> None:
    shows = compiled_of(
        knowledge_of(findings=[FILTER], causes=[a_cause("a", {"filter": {"clogged": 0.5}})])
    ).shows

    with pytest.raises(ValueError, match="read-only"):
        shows[finding_node(FindingId("filter"))].strength[0, 0] = 1.0
    assert np.all(shows[finding_node(FindingId("filter"))].strength > 0)
