"""Elements of a UBL document: small words for building them."""

import xml.etree.ElementTree as ET
from collections.abc import Mapping

from tracker.records.money import Money

AGGREGATES = "urn:oasis:names:specification:ubl:schema:xsd:CommonAggregateComponents-2"
BASICS = "urn:oasis:names:specification:ubl:schema:xsd:CommonBasicComponents-2"


def add(
    above: ET.Element, name: str, text: str | None = None, attributes: Mapping[str, str] | None = None
) -> ET.Element:
    """An element below another one; its text is data and escaped when it is written."""
    made = ET.SubElement(above, name, dict(attributes or {}))
    made.text = text
    return made


def amount(above: ET.Element, name: str, minor: int, currency: str) -> ET.Element:
    """An amount of money with its currency."""
    return add(above, name, str(Money(minor, currency)), {"currencyID": currency})
