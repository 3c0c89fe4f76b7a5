"""Prices a repair: which codes need a price, then the bill. `python price.py` with `mendgauge-client` installed."""

import os
from pathlib import Path

import msgspec

from mendgauge_client import LabourRate, Mendgauge, PriceBook, Tax, TyreCase

case = msgspec.json.decode(Path(__file__).with_name("case.json").read_bytes(), type=TyreCase)

with Mendgauge(os.environ.get("MENDGAUGE_URL", "http://127.0.0.1:8340")) as service:
    codes = service.list_generic_units(case.rulebook, tyre_class="car")
    case.price_book = PriceBook(
        currency="GBP",
        labour=LabourRate(per_hour="54.00"),
        units={unit.code: "3.40" for unit in codes.units},
        consumables={used.code: "0.12" for used in codes.consumables},
        taxes=[Tax(name="VAT", percent="20")],
    )
    quote = service.quote_repair(case)

print(quote.verdict, "-", quote.says)
for line in quote.lines:
    print(f"{line.gross:>8}  {line.title}")
print(f"{quote.totals.gross:>8}  {quote.currency} to pay")
