"""A number as records give it: one, a range, or a range with its usual value."""

# Without postponed annotations: msgspec evaluates those of each class anew at every start.

from msgspec import Struct


class Quantity(Struct, frozen=True):
    """One number, a range, or a range with its usual value (``low <= usual <= high``)."""

    low: float
    high: float
    usual: float | None = None

    @property
    def plan(self) -> float:
        """The value to plan with: the usual one, else the high end."""
        return self.high if self.usual is None else self.usual

    @property
    def middle(self) -> float:
        """The usual value, else the middle."""
        return (self.low + self.high) / 2 if self.usual is None else self.usual
