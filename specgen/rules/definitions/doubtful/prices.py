"""The price of energy, out of any proportion for its currency; a currency that is misspelled or
missing."""

from collections.abc import Iterator
from decimal import Decimal
from typing import Any, Final

from specgen.diagnostics.suggest import did_you_mean, question
from specgen.messages import say
from specgen.model import Conditions, Definitions
from specgen.rules.definitions.contradicting.contradicting_lists import Look
from specgen.rules.definitions.contradicting.contradiction import Contradiction, far_from_usual

_LARGE: Final = (Decimal("0.01"), Decimal("1.5"))
_TENS: Final = (Decimal("0.1"), Decimal(15))
_HUNDREDS: Final = (Decimal(1), Decimal(150))
_THOUSANDS: Final = (Decimal(10), Decimal(1500))
KILOWATT_HOUR: Final = {
    **dict.fromkeys(("euro", "eur", "€", "us dollar", "usd", "pound sterling", "gbp"), _LARGE),
    **dict.fromkeys(("£", "swiss franc", "chf", "cad", "aud", "nzd", "sgd", "bgn", "ils"), _LARGE),
    **dict.fromkeys(("krona", "krone", "sek", "nok", "dkk", "złoty", "zloty", "pln"), _TENS),
    **dict.fromkeys(("yuan", "renminbi", "cny", "real", "brl", "ron", "zar", "rand"), _TENS),
    **dict.fromkeys(("dollar", "$", "mxn", "koruna", "czk", "try", "hkd", "twd", "myr"), _TENS),
    **dict.fromkeys(("yen", "jpy", "rupee", "inr", "₹", "baht", "thb", "isk"), _HUNDREDS),
    **dict.fromkeys(("forint", "huf", "won", "krw", "₩"), _THOUSANDS),
}
"""What a kilowatt-hour costs at least and at most, by currency, in what ISO 4217 and people call
it. common practice, no source"""


def _price(record: Any, definitions: Definitions) -> Iterator[Contradiction]:
    if not isinstance(record, Conditions):
        return
    own = definitions.project.conditions
    price, currency = record.energy_price, record.currency or own.currency
    usual = KILOWATT_HOUR.get(str(currency).lower().removesuffix("s"))
    if price is not None and usual is not None and not usual[0] <= price <= usual[1]:
        yield Contradiction(
            ("energy_price",),
            far_from_usual("energy_price", str(price)),
            say("a kilowatt-hour costs {least} to {most} in this currency ({currency})",
                least=str(usual[0]), most=str(usual[1]), currency=str(currency)),
            help=say("write it in the currency itself, not in its hundredth part"),
        )  # fmt: skip
    if price is not None and currency is None:
        yield Contradiction(
            ("energy_price",),
            say("`energy_price` is stated, and no `currency`"),
            say("nobody can tell what the costs of a year are in"),
            help=say("add `currency`"),
        )
    if record.currency is not None and usual is None:
        meant = did_you_mean(str(record.currency), KILOWATT_HOUR)
        if meant and not str(record.currency).isupper():
            yield Contradiction(
                ("currency",),
                say("`{word}` is close to `{other}`", word=str(record.currency), other=meant[0]),
                say("documents print costs with it"),
                help=question(meant),
            )


OF_PRICES: Final[tuple[tuple[tuple[str, ...], Look], ...]] = ((("energy_price",), _price),)
"""Each with the fields of which a record has one, where it is asked."""
