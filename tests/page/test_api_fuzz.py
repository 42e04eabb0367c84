"""The JSON API fuzzed from its own OpenAPI document: schemathesis, with all of its checks.

Each answer has a status, a media type and a body that the document names; what cannot be is refused, and
nothing is answered with a fault of ours (5xx). ``COLDSPELL_FUZZ=N`` asks N questions of each address, and
every parameter at its limits besides.
"""

from __future__ import annotations

import os
from datetime import date
from typing import Any

import pytest

pytestmark = pytest.mark.long

WHY = "type: uv run --all-groups pytest (the group surfaces)"
schemathesis = pytest.importorskip("schemathesis", reason=WHY)
pytest.importorskip("litestar", reason=WHY)

from hypothesis import HealthCheck, Phase, settings  # noqa: E402
from schemathesis.specs.openapi.checks import positive_data_acceptance  # noqa: E402

from coldspell.api import shipped  # noqa: E402
from coldspell.web.server import make_app  # noqa: E402

app = make_app(shipped(), {}, lambda: date(2026, 11, 30))
# A schema cannot say that a name is one of a plant, or that a weight goes with no count: such questions are
# refused, though they fit it. All other checks hold.
document = schemathesis.openapi.from_asgi("/api/openapi.json", app)


@document.parametrize()
@settings(
    max_examples=int(os.environ.get("COLDSPELL_FUZZ", "15")),
    deadline=None,
    derandomize=True,
    phases=[Phase.generate, *([Phase.explicit] if "COLDSPELL_FUZZ" in os.environ else [])],
    suppress_health_check=[*HealthCheck],
)
def test_every_answer_is_as_the_document_says(case: Any) -> None:
    case.call_and_validate(excluded_checks=[positive_data_acceptance])
