"""Commands that take what is known of a lot: an option for each of its facts that is typed."""

# Without postponed annotations: typer would evaluate each of them by itself.

import inspect
from collections.abc import Callable, Sequence

from coldspell.cli.parameters import with_parameters
from coldspell.cli.recipe import fact_parameters


def lot_command(
    answer: Callable[..., int], own: Sequence[str], arguments: Sequence[str]
) -> Callable[..., int]:
    """A command from a function whose last parameter, ``**said``, takes the facts of the lot.

    Parameters
    ----------
    own
        The options of the function itself.
    arguments
        What was typed; only the options that it names are made.
    """
    first, *rest = list(inspect.signature(answer).parameters.values())[:-1]
    keyed = [p.replace(kind=inspect.Parameter.KEYWORD_ONLY) for p in rest]
    return with_parameters(answer, [first, *keyed, *fact_parameters(arguments, own)])
