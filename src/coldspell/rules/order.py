"""The order in which decisions can be computed; a circle is a mistake."""

from __future__ import annotations

from collections.abc import Mapping

from coldspell.rules.findings import Findings
from coldspell.rules.model import Decision


def computed_order(decisions: Mapping[str, Decision], out: Findings) -> list[Decision]:
    """Decisions after all they look at; by name where that leaves a choice. Circles are noted in `out`."""
    named = {name: {f.partition(".")[0] for f in d.facts} for name, d in decisions.items()}
    needs = {name: sorted(f for f in facts if f in decisions) for name, facts in named.items()}
    done: dict[str, Decision] = {}
    while len(done) < len(decisions):
        ready = sorted(n for n in needs if n not in done and all(f in done for f in needs[n]))
        if not ready:
            circle = _circle(
                {n: [f for f in fs if f not in done] for n, fs in needs.items() if n not in done}
            )
            out.error(
                decisions[circle[0]].place,
                "circle",
                f"decisions in a circle: {' → '.join(circle)}",
                "One of them must do without the answer of the next.",
            )
            return list(done.values())
        done.update((name, decisions[name]) for name in ready)
    return list(done.values())


def _circle(needs: Mapping[str, list[str]]) -> list[str]:
    """One circle, begun at its first name, so that it reads the same whatever the order of the files."""
    path = [min(needs)]
    while path[-1] not in path[:-1]:
        path.append(needs[path[-1]][0])
    circle = path[path.index(path[-1]) : -1]
    start = circle.index(min(circle))
    turned = circle[start:] + circle[:start]
    return [*turned, turned[0]]
