"""All findings side by side, so that the gains of all checks are a few products.

    P(a | h) = Σ_s P(s | h) P(a | s)        P(a, r) = Σ_{h in r} P(h) P(a | h)

Stored are the deviations from the background only: D = P(s | h) − P(s | nothing listed).
"""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from scipy.sparse import csr_array

from assistant.reasoning.evidence import channel
from assistant.reasoning.gains import entropy_bits
from assistant.reasoning.hypotheses import Hypotheses, Shown
from kb.compiling import Floats, Ints, finding_node
from kb.ids import CheckId, FindingId


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class View:
    """One way in which a check tells: the finding that it finds, or a sum that its number feeds."""

    check: CheckId
    finding: FindingId


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Stacked:
    """The columns are the states of all findings that some check can tell, one after another."""

    views: tuple[View, ...]
    usual: Floats
    """(columns,) P(s | nothing listed)."""
    deviation: csr_array
    """(hypotheses, columns) D."""
    deviation_by_column: csr_array
    """(columns, hypotheses) D again, the other way round."""
    columns: Ints
    """(views, states) the columns of each view; one past the end where a finding has fewer states."""
    channels: Floats
    """(views, states, answers) P(a | s)."""
    usual_noise_bits: Floats
    """(views,) H(A | nothing listed)."""
    noise_deviation: csr_array
    """(views, hypotheses) H(A | h) − H(A | nothing listed)."""


@lru_cache(maxsize=8)
def stacked(hypotheses: Hypotheses) -> Stacked:
    """The stacked arrays of one edition, made once."""
    views = _views(hypotheses)
    findings = sorted({view.finding for view in views})
    told = [hypotheses.shown[finding_node(finding)] for finding in findings]
    widths = np.array([len(shown.shows.states) for shown in told], dtype=np.int64)
    starts = dict(zip(findings, (np.cumsum(widths) - widths).tolist(), strict=True))
    wide = int(widths.max(initial=1))
    deviation = _deviation(len(hypotheses), told, int(widths.sum()))
    columns = np.full((len(views), wide), int(widths.sum()), dtype=np.int64)
    channels = np.zeros((len(views), wide, wide))
    for place, view in enumerate(views):
        width = len(hypotheses.shown[finding_node(view.finding)].shows.states)
        columns[place, :width] = starts[view.finding] + np.arange(width)
        right = hypotheses.compiled.knowledge.checks[view.check].people_are_right
        channels[place, :width, :width] = channel(width, right)
    usual_noise_bits, noise_deviation = _noise(hypotheses, views, channels)
    return Stacked(
        views=views,
        usual=np.concatenate([np.zeros(0), *(shown.shows.background for shown in told)]),
        deviation=deviation,
        deviation_by_column=deviation.T.tocsr(),
        columns=columns,
        channels=channels,
        usual_noise_bits=usual_noise_bits,
        noise_deviation=noise_deviation,
    )


def _views(hypotheses: Hypotheses) -> tuple[View, ...]:
    knowledge = hypotheses.compiled.knowledge
    views: list[View] = []
    for check, node in knowledge.checks.items():
        fed = [
            f for f, finding in knowledge.findings.items() if finding.sum and node.measures in finding.sum.of
        ]
        views += [View(check=check, finding=f) for f in sorted({node.finds, *fed} & set(knowledge.findings))]
    return tuple(views)


def _deviation(hypotheses: int, told: list[Shown], columns: int) -> csr_array:
    rows, places, values, start = [np.zeros(0, np.int64)], [np.zeros(0, np.int64)], [np.zeros(0)], 0
    for shown in told:
        states = len(shown.shows.states)
        rows.append(np.repeat(shown.rows, states))
        places.append(np.tile(start + np.arange(states), len(shown.rows)))
        values.append((shown.strength - shown.shows.background).ravel())
        start += states
    data = (np.concatenate(values), (np.concatenate(rows), np.concatenate(places)))
    return csr_array(data, shape=(hypotheses, columns))


def _noise(hypotheses: Hypotheses, views: tuple[View, ...], channels: Floats) -> tuple[Floats, csr_array]:
    usual, rows, places, values = (
        np.zeros(len(views)),
        [np.zeros(0, np.int64)],
        [np.zeros(0, np.int64)],
        [np.zeros(0)],
    )
    for place, view in enumerate(views):
        shown = hypotheses.shown[finding_node(view.finding)]
        width = len(shown.shows.states)
        through = channels[place, :width, :width]
        usual[place] = float(entropy_bits(shown.shows.background @ through))
        rows.append(np.full(len(shown.rows), place))
        places.append(shown.rows)
        values.append(entropy_bits(shown.strength @ through) - usual[place])
    data = (np.concatenate(values), (np.concatenate(rows), np.concatenate(places)))
    return usual, csr_array(data, shape=(len(views), len(hypotheses)))


def gain_on_hypotheses_bits(stack: Stacked, weights: Floats) -> Floats:
    """(views,) I(H; A) = H(A) − Σ_h P(h) H(A | h), over all hypotheses."""
    total = weights.sum()
    state = np.append(stack.usual * total + stack.deviation_by_column @ weights, 0.0)
    answer = (state[stack.columns][:, None, :] @ stack.channels)[:, 0, :]  # (views, answers)
    noise = stack.usual_noise_bits * total + stack.noise_deviation @ weights
    return np.asarray(np.maximum(entropy_bits(answer) - noise, 0.0), dtype=np.float64)


def joint_with_classes(stack: Stacked, weights: Floats, rows: Ints, of_row: Ints, classes: int) -> Floats:
    """(views, classes, answers) P(class, answer) from the hypotheses in `rows`, summing to 1 for each view."""
    weights = weights[rows] / weights[rows].sum()
    in_class = csr_array((weights, (of_row[rows], np.arange(len(rows)))), shape=(classes, len(rows)))
    share = np.bincount(of_row[rows], weights=weights, minlength=classes)
    state = share[:, None] * stack.usual + (in_class @ stack.deviation[rows]).toarray()  # (classes, columns)
    state = np.concatenate([state, np.zeros((classes, 1))], axis=1)
    return np.asarray(state[:, stack.columns].transpose(1, 0, 2) @ stack.channels, dtype=np.float64)


def answers_of(stack: Stacked, views: Ints, rows: Ints) -> Floats:
    """(views, hypotheses in rows, answers) P(a | h): the few that a rollout looks at, written out."""
    state = stack.usual + stack.deviation[rows].toarray()
    state = np.concatenate([state, np.zeros((len(rows), 1))], axis=1)
    return np.asarray(
        state[:, stack.columns[views]].transpose(1, 0, 2) @ stack.channels[views], dtype=np.float64
    )
