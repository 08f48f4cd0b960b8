"""Intervals against published values; F1 against the counts; the baselines against phrases of the knowledge itself."""

import numpy as np
import pytest
from scipy.stats import binomtest

from assistant.reading.labelled import Labelled
from assistant.reading.said import Answer
from assistant.reading.score import PARTS, TextScore, score
from assistant.workbench import baselines, figures, honesty
from kb.ids import CheckId
from kb.knowledge import Knowledge


def text_with(meant: set[str], found: set[str]) -> TextScore:
    parts = {part: (frozenset[str](), frozenset[str]()) for part in PARTS}
    return TextScore(
        labelled=Labelled(text="", language="en"),
        parts=parts | {"findings": (frozenset(meant), frozenset(found))},
        reply=None,
        answer=Answer(kind="none"),
    )


def test_wilsons_interval_is_the_published_one() -> None:
    # R. G. Newcombe, Statist. Med. 17 (1998) 857-872, table I: 81 of 263 gives 0.2553 to 0.3662
    figure = figures.share(81, 263)

    assert figure is not None
    assert figure.low == pytest.approx(0.2553, abs=5e-5)
    assert figure.high == pytest.approx(0.3662, abs=5e-5)


@pytest.mark.parametrize(("hits", "of"), [(0, 9), (3, 7), (240, 240)])
def test_wilsons_interval_agrees_with_a_reference_library(hits: int, of: int) -> None:
    ours, theirs = figures.share(hits, of), binomtest(hits, of).proportion_ci(method="wilson")

    assert ours is not None
    assert (ours.low, ours.high) == pytest.approx((theirs.low, theirs.high), abs=1e-6)


def test_f1_lies_inside_its_interval_and_narrows_with_more_texts() -> None:
    few = [text_with({"a"}, {"a"}), text_with({"a", "b"}, {"a"}), text_with({"a"}, {"c"})] * 5
    many = few * 20

    wide, narrow = figures.f1(few, "findings"), figures.f1(many, "findings")

    assert wide is not None
    assert narrow is not None
    assert wide.value == narrow.value == pytest.approx(2 * 2 / (4 + 3))
    assert wide.low < wide.value < wide.high
    assert narrow.high - narrow.low < 0.5 * (wide.high - wide.low)


def test_a_missed_danger_is_the_worst_mistake() -> None:
    made_up = text_with(set(), {"a"})
    right = text_with({"a"}, {"a"})
    missed = TextScore(
        labelled=Labelled(text="", language="en", hazards=("smoke",)),
        parts={**right.parts, "hazards": (frozenset({"smoke"}), frozenset())},
        reply=None,
        answer=Answer(kind="none"),
    )

    assert figures.worst([right, made_up, missed]) == (missed, made_up)


def test_character_n_grams_are_nearest_to_themselves() -> None:
    phrases = ["the filter is full of fluff", "the door was left open", "ice on the coil"]

    likeness = baselines.neighbour(phrases, phrases)

    assert np.allclose(np.diag(likeness), 1.0)
    assert (likeness.argmax(axis=1) == np.arange(3)).all()
    assert likeness[0, 1] < 0.3


@pytest.mark.parametrize("likeness", [baselines.similarity, baselines.neighbour])
def test_a_baseline_reads_the_phrases_it_was_given(
    knowledge: Knowledge, likeness: baselines.Likeness
) -> None:
    phrase, senses = next(
        (phrase, senses)
        for phrase, senses in baselines.phrases_of(knowledge).items()
        if len(senses) == 1 and senses[0][0] == "findings" and len(phrase.split()) > 3
    )
    texts = [
        Labelled(text=phrase, language="en", findings={senses[0][1]: senses[0][2]}),
        Labelled(
            text="3",
            language="en",
            about=CheckId("look_at_filter"),
            answer={"kind": "state", "state": "clogged"},
        ),
    ]

    first, second = baselines.scored_by(likeness, knowledge, texts)

    assert first.parts["findings"][1] == {senses[0][1:]}
    assert second.reply == "right"


def test_what_is_read_is_held_against_the_labels_with_how_sure_we_were(knowledge: Knowledge) -> None:
    texts = [
        Labelled(text="the filter is clogged", language="en", findings={"filter": "clogged"}),
        Labelled(text="the filter is clogged", language="en", findings={"filter": "clean"}),
    ]

    claims = honesty.claims(score(knowledge, texts).texts, "findings")

    assert [claim.right for claim in claims] == [True, False]
    assert claims[0].confidence == claims[1].confidence
