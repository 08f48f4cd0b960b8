"""Published networks written out: a hypothesis is one assignment of all hidden variables, a finding a table over them."""

import itertools
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from assistant.reasoning.belief import Belief, weigh_on
from assistant.reasoning.evidence import found
from assistant.reasoning.hypotheses import Hypotheses, Shown
from kb.compiling import Shows, finding_node
from kb.ids import FindingId, StateId
from tests.reasoning.bases import compiled_of, knowledge_of

YES, NO = StateId("yes"), StateId("no")
Assignment = Mapping[str, int]


@dataclass(frozen=True, slots=True)
class Network:
    """Yes-or-no variables, each with P(yes | the variables before it)."""

    chances: Mapping[str, Callable[[Assignment], float]]

    @property
    def assignments(self) -> list[dict[str, int]]:
        names = list(self.chances)
        return [
            dict(zip(names, values, strict=True)) for values in itertools.product((1, 0), repeat=len(names))
        ]

    def hypotheses(self, observable: Sequence[str] | None = None) -> Hypotheses:
        """All assignments with their probabilities; every variable can be seen as a finding that is never mistaken."""
        assignments = self.assignments
        prior = np.array([self.chance(assignment) for assignment in assignments])
        shown = {}
        for name in observable or list(self.chances):
            sure = np.array([[a[name], 1 - a[name]] for a in assignments], dtype=np.float64)
            shows = Shows(
                about=finding_node(FindingId(name)),
                states=(YES, NO),
                normal=None,
                ordered=False,
                past=False,
                lasts_minutes=None,
                group=name,
                background=np.array([0.5, 0.5]),
                causes=np.zeros(0, dtype=np.int64),
                strength=np.zeros((0, 2)),
            )
            shown[shows.about] = Shown(shows=shows, rows=np.arange(len(prior)), strength=sure)
        nobody = np.zeros(len(prior), dtype=np.int64)
        compiled = compiled_of(knowledge_of(findings=[], causes=[]))
        return Hypotheses(compiled=compiled, first=nobody, second=nobody, prior=prior, shown=shown)

    def chance(self, assignment: Assignment) -> float:
        p = 1.0
        for name, yes in self.chances.items():
            p *= yes(assignment) if assignment[name] else 1.0 - yes(assignment)
        return p

    def given(self, **seen: int) -> Belief:
        """Belief after these findings: `given(x=1, d=0)`."""
        evidence = [found(FindingId(n), {YES if v else NO: 1.0}, computed=True) for n, v in seen.items()]
        return weigh_on(self.hypotheses(), evidence)

    def probability(self, belief: Belief, name: str) -> float:
        return float(sum(w for w, a in zip(belief.weights, self.assignments, strict=True) if a[name]))


def asia() -> Network:
    """Lauritzen & Spiegelhalter, J. R. Stat. Soc. B 50 (1988) 157-224. E is tuberculosis or cancer."""
    return Network(
        {
            "a": lambda v: 0.01,
            "s": lambda v: 0.5,
            "t": lambda v: 0.05 if v["a"] else 0.01,
            "l": lambda v: 0.10 if v["s"] else 0.01,
            "b": lambda v: 0.60 if v["s"] else 0.30,
            "e": lambda v: float(v["t"] or v["l"]),
            "x": lambda v: 0.98 if v["e"] else 0.05,
            "d": lambda v: {(1, 1): 0.9, (1, 0): 0.7, (0, 1): 0.8, (0, 0): 0.1}[v["e"], v["b"]],
        }
    )


def sprinkler() -> Network:
    """Murphy's tutorial version of the network of Russell & Norvig."""
    return Network(
        {
            "c": lambda v: 0.5,
            "s": lambda v: 0.1 if v["c"] else 0.5,
            "r": lambda v: 0.8 if v["c"] else 0.2,
            "w": lambda v: {(1, 1): 0.99, (1, 0): 0.9, (0, 1): 0.9, (0, 0): 0.0}[v["s"], v["r"]],
        }
    )


def alarm() -> Network:
    """Russell & Norvig, Artificial Intelligence: A Modern Approach."""
    return Network(
        {
            "b": lambda v: 0.001,
            "e": lambda v: 0.002,
            "a": lambda v: {(1, 1): 0.95, (1, 0): 0.94, (0, 1): 0.29, (0, 0): 0.001}[v["b"], v["e"]],
            "j": lambda v: 0.90 if v["a"] else 0.05,
            "m": lambda v: 0.70 if v["a"] else 0.01,
        }
    )
