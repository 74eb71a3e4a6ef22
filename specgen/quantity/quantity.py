"""What every quantity can do: be read, compared, added, converted; and what pydantic asks of it."""

import re
from collections.abc import Iterable
from decimal import Decimal
from functools import lru_cache
from typing import Any, ClassVar, Self, cast, overload

from pydantic_core import CoreSchema, PydanticCustomError, core_schema

from specgen.frozen import frozen
from specgen.quantity.problems import QuantityError
from specgen.quantity.reading import MINUS, MOST_DIGITS, SPACES, find_unit, no_text, read
from specgen.quantity.units import BY_DIMENSION, EXACT, Dimension, Unit


@frozen(eq=False)
class Quantity:
    """An exact value of one dimension; its subclasses, one a dimension, are what fields hold.

    `amount` counts the dimension's base unit, `unit` is the one to print in, and `digits` is how
    many significant digits a declared value was written with (None: computed). Equality, order
    and hash look at the class and the amount only: `1 kW` equals `1000 W`.
    """

    amount: Decimal
    unit: Unit
    digits: int | None = None

    dimension: ClassVar[Dimension]

    @classmethod
    def of(cls, number: int | Decimal | str, unit: str | None = None) -> Self:
        """So many of a unit (the base unit when none is named); floats are refused.

        Raises QuantityError for a unit of another dimension.
        """
        found = find_unit(unit or cls.dimension.base, cls.dimension)
        return cls(found.to_base(_exact(number)), found)

    @classmethod
    def parse(cls, text: str) -> Self:
        """Read a declared value such as `750 W`; raises QuantityError, and nothing else."""
        return cast(Self, _parsed(cls, str(text)))  # type: ignore[arg-type]  # a class has a hash

    def to(self, unit: str) -> Self:
        """The same amount, printed in another unit as a computed value."""
        found = find_unit(unit, self.dimension)
        return self if found is self.unit else self.__class__(self.amount, found)

    def in_unit(self, unit: str) -> Decimal:
        """The bare number in a unit of this dimension."""
        return find_unit(unit, self.dimension).from_base(self.amount)

    def __eq__(self, other: object) -> bool:
        if isinstance(other, Quantity) and other.__class__ is self.__class__:
            return self.amount == other.amount
        return NotImplemented

    def __hash__(self) -> int:
        return hash(self.amount)

    def __lt__(self, other: Self) -> bool:
        return self.amount < other.amount if self.__class__ is other.__class__ else NotImplemented

    def __le__(self, other: Self) -> bool:
        return self.amount <= other.amount if self.__class__ is other.__class__ else NotImplemented

    def __gt__(self, other: Self) -> bool:
        return self.amount > other.amount if self.__class__ is other.__class__ else NotImplemented

    def __ge__(self, other: Self) -> bool:
        return self.amount >= other.amount if self.__class__ is other.__class__ else NotImplemented

    def __repr__(self) -> str:
        number = self.unit.from_base(self.amount)
        return f"{self.__class__.__name__}('{number:f} {self.unit.symbol}')"

    def __reduce__(self) -> tuple[type[Self], tuple[Decimal, Unit, int | None]]:
        return self.__class__, (self.amount, self.unit, self.digits)

    @classmethod
    def __get_pydantic_core_schema__(cls, source: Any, handler: Any) -> CoreSchema:
        return core_schema.no_info_plain_validator_function(cls._from_field)

    @classmethod
    def __get_pydantic_json_schema__(cls, schema: CoreSchema, handler: Any) -> dict[str, Any]:
        dimension = cls.dimension
        names = "|".join(map(re.escape, BY_DIMENSION[dimension.name]))
        number = rf"[+\-{MINUS}]?[0-9]{{1,{MOST_DIGITS}}}(\.[0-9]{{1,{MOST_DIGITS}}})?"
        return {
            "type": "string",
            "pattern": rf"^\s*{number}[{SPACES}]*({names})\s*$",
            "description": f"{dimension.name} with its unit, such as `{dimension.example}`",
            "examples": [dimension.example],
        }

    @classmethod
    def _from_field(cls, value: object) -> Self:
        if isinstance(value, cls):
            return value
        try:
            if isinstance(value, str):
                return cls.parse(value)
            raise no_text(value, cls.dimension)
        except QuantityError as error:
            raise PydanticCustomError("quantity", "no quantity", {"error": error}) from None


class Magnitude(Quantity):
    """A quantity with a true zero: two of a kind add up, and one can be taken so many times."""

    __slots__ = ()
    _zero: ClassVar["Magnitude"]

    @classmethod
    def zero(cls) -> Self:
        """Nothing, in the base unit; what `sum` starts from."""
        if "_zero" not in cls.__dict__:
            cls._zero = cls.of(0)
        return cast(Self, cls._zero)

    def __add__(self, other: Self) -> Self:
        """The sum, in the left one's unit; adding to nothing takes the right one's unit."""
        if not _alike(self, other):
            return NotImplemented
        unit = self.unit if self.amount else other.unit
        return self.__class__(EXACT.add(self.amount, other.amount), unit)

    def with_all(self, others: Iterable[Self]) -> Self:
        """The sum with several, as adding one after the other gives it; `sum` would make a
        quantity at each step, 7,000 of them to check the demo."""
        amount, unit = self.amount, self.unit
        for other in others:
            if not _alike(self, other):
                raise TypeError(f"{other!r} cannot be added to a {self.__class__.__name__}")
            if not amount:
                unit = other.unit
            amount = EXACT.add(amount, other.amount)
        return self.__class__(amount, unit)

    def __sub__(self, other: Self) -> Self:
        if not _alike(self, other):
            return NotImplemented
        unit = self.unit if self.amount else other.unit
        return self.__class__(EXACT.subtract(self.amount, other.amount), unit)

    def __neg__(self) -> Self:
        return self.__class__(EXACT.minus(self.amount), self.unit, self.digits)

    def __abs__(self) -> Self:
        return self if self.amount >= 0 else -self

    def __mul__(self, by: int | Decimal) -> Self:
        if not isinstance(by, int | Decimal):
            return NotImplemented
        return self.__class__(EXACT.multiply(self.amount, by), self.unit)

    __rmul__ = __mul__

    @overload
    def __truediv__(self, by: int | Decimal) -> Self: ...
    @overload
    def __truediv__(self, by: Self) -> Decimal: ...
    def __truediv__(self, by: int | Decimal | Self) -> Self | Decimal:
        """A share of it, or how many times another of its kind goes into it."""
        if isinstance(by, int | Decimal):
            return self.__class__(EXACT.divide(self.amount, by), self.unit)
        if not _alike(self, by):
            return NotImplemented
        return EXACT.divide(self.amount, by.amount)


@lru_cache(maxsize=4096)  # two of three values of a catalog are written in it before
def _parsed(cls: type[Quantity], text: str) -> Quantity:
    number, unit, digits = read(text, BY_DIMENSION[cls.dimension.name], cls.dimension)
    return cls(unit.to_base(number), unit, digits)


def _alike(left: object, right: object) -> bool:
    return left.__class__ is right.__class__


def _exact(number: int | Decimal | str) -> Decimal:
    if isinstance(number, float) or not isinstance(number, int | Decimal | str):
        raise TypeError(f"a quantity is made of an int, a Decimal or a text, not of {number!r}")
    value = Decimal(number)
    if not value.is_finite():
        raise ValueError(f"a quantity is finite, not {number!r}")
    return value
