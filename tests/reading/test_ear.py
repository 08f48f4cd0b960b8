"""The ear: looked up as it was trained, heard beside composition, and never over a plain denial."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from scipy.sparse import csr_array

from assistant.reading import read
from assistant.reading.clauses import chunks_of
from assistant.reading.ear import likes_in
from assistant.reading.normalise import tokens_of
from assistant.reading.pieces import pieces_of_pair, pieces_of_word
from kb.ear import Ear, load_ear, save_ear
from kb.files import PACKAGED
from kb.heard import digest_of, misnamed, read_heard
from kb.knowledge import Knowledge
from tests.reading.conftest import Says

LABELS = (("hazard", "", ""), ("hazard", "smoke_fire", ""), ("hazard", "tingle", ""))


def a_small_ear() -> Ear:
    words = ("smoke", "comes", "out", "it", "shocks")
    pieces = sorted(
        {piece for word in words for piece in pieces_of_word(word)} | {*pieces_of_pair("it", "shocks")}
    )
    numbers = np.random.default_rng(7)  # noqa: TID251 - seeded: the same ear each time
    return Ear(
        made_of="0" * 12,
        pieces={piece: row for row, piece in enumerate(pieces)},
        rarity=1 + numbers.random(len(pieces)),
        weights=csr_array(numbers.normal(size=(len(pieces), len(LABELS)))),
        bias=numbers.normal(size=len(LABELS)),
        labels=LABELS,
        beliefs={},
    )


def test_a_stretch_is_scored_as_a_linear_classifier_scores_it_piece_by_piece() -> None:
    # the sums over running totals against the plain definition: x = counts * rarity, divided by its length
    ear = a_small_ear()
    tokens = tokens_of("it shocks")
    told = [*pieces_of_word("it"), *pieces_of_word("shocks"), *pieces_of_pair("it", "shocks")]
    rows = [ear.pieces[piece] for piece in told if piece in ear.pieces]
    length = np.sqrt(np.sum(ear.rarity[rows] ** 2))
    plain = (ear.rarity[rows] @ ear.weights.toarray()[rows]) / length + ear.bias

    likes = {like.id: like for like in likes_in(ear, tokens, chunks_of(tokens))}

    assert likes["smoke_fire"].score == pytest.approx(plain[1], abs=1e-12)
    assert likes["tingle"].ahead == pytest.approx(plain[2] - plain[0], abs=1e-12)


def test_an_ear_is_kept_in_a_file_to_a_hundredth(tmp_path: Path) -> None:
    ear = a_small_ear()

    save_ear(ear, tmp_path / "ear.npz")
    kept = load_ear(tmp_path / "ear.npz")

    assert kept is not None
    assert kept.pieces == ear.pieces
    assert kept.labels == ear.labels
    assert np.abs(kept.weights.toarray() - ear.weights.toarray()).max() < 0.02
    save_ear(ear, tmp_path / "again.npz")
    assert (tmp_path / "ear.npz").read_bytes() == (tmp_path / "again.npz").read_bytes()


def test_the_ear_was_trained_on_the_phrases_that_stand_beside_it(knowledge: Knowledge) -> None:
    phrases, problems = read_heard(PACKAGED)

    assert not problems
    assert not list(misnamed(phrases, knowledge))
    assert knowledge.ear is not None
    assert knowledge.ear.made_of == digest_of(phrases), "run: helpline kb listen"


@pytest.mark.parametrize(
    ("text", "hazard"),
    [
        ("kid went in for lettuce and now the latch wont budge, hes banging on the wall", "shut_in"),
        ("huele como a cable tostado ahi por donde se enchufa", "burning_smell"),
        ("gonna run the generator in here with us since its raining", "carbon_monoxide"),
    ],
)
def test_dangers_in_words_that_no_list_foresaw_are_heard(both_say: Says, text: str, hazard: str) -> None:
    assert hazard in {said.hazard for said in both_say(text).hazards}


@pytest.mark.parametrize(
    "text",
    [
        "sin humo",
        "no mouse droppings at all",
        "no smoke, no smell",
        "no hay chispas",
        "nada de olor a quemado",
    ],
)
def test_what_is_denied_never_alarms_however_like_a_danger_it_sounds(both_say: Says, text: str) -> None:
    assert not both_say(text).hazards


@pytest.mark.parametrize(
    ("text", "finding", "state"),
    [
        ("the coil isn't dirty", "indoor_coil", "clean"),
        ("filter clean coil iced", "coil_ice", "solid"),
        ("hooked to an orange cord that runs across the barn", "supply", "extension_cord"),
        ("el ventilador de afuera ni se mueve", "outdoor_fan", "stopped"),
    ],
)
def test_grammar_keeps_what_it_parses_whole_and_the_ear_adds_what_it_knows(
    both_say: Says, text: str, finding: str, state: str
) -> None:
    assert (finding, state) in {(said.finding, said.state) for said in both_say(text).findings}


def test_without_an_ear_composition_reads_alone(knowledge: Knowledge) -> None:
    alone = read(replace(knowledge, ear=None), "the coil is iced")

    assert [(said.finding, said.state) for said in alone.findings] == [("coil_ice", "solid")]


def test_a_state_the_ear_was_never_taught_stays_as_composed(knowledge: Knowledge) -> None:
    ear = knowledge.ear
    assert ear is not None
    labels = tuple(("finding", "other", "x") if label[1] == "coil_ice" else label for label in ear.labels)
    untaught = replace(knowledge, ear=replace(ear, labels=labels))

    said = read(
        untaught, "the coil is iced, it grew overnight somehow and the blower just huffs at us"
    ).findings

    assert ("coil_ice", "solid") in {(one.finding, one.state) for one in said}
