"""Seller and buyer of an e-invoice: what a free address says, and the party's elements (BG-4, BG-7)."""

import re
import xml.etree.ElementTree as ET
from collections.abc import Mapping
from dataclasses import dataclass

from tracker.papers.ubl_xml import add

_CODE_FIRST = re.compile(r"(?P<zone>(?:[A-Z]{1,2}-)?\d[\d ]{2,6}\d)\s+(?P<city>\D.*)")
_CODE_LAST = re.compile(
    r"(?P<city>.*[^\d\s,]),?\s+(?=.{3,}$)(?P<zone>[A-Z]{0,2}\d[\dA-Z]{0,4}(?: \d[A-Z]{2})?)"
)
_LETTERS = re.compile(r"[A-Z]{2}")
_PREFIXES = {"GR": ("EL",), "GB": ("GB", "XI")}
"""Where a tax number does not begin with the country's two letters (Directive 2006/112/EC, article 215)."""


@dataclass(frozen=True, slots=True)
class Place:
    """An address as far as its lines tell: the first is the street, the last the town."""

    lines: tuple[str, ...] = ()
    city: str = ""
    zone: str = ""
    country: str = ""
    country_supposed: bool = False


def place_of(kept: Mapping[str, str], usual: str = "") -> Place:
    """The place that a kept seller or buyer is at. A last line of two capital letters is the country.

    `usual` is the country of somebody of whom none is kept.

    >>> place_of({"address": "12 Quay Lane\\n1201 Sandwick", "country": "IE"})
    Place(lines=('12 Quay Lane',), city='Sandwick', zone='1201', country='IE', country_supposed=False)
    """
    lines = [line.strip() for line in kept.get("address", "").split("\n") if line.strip()]
    country = kept.get("country", "").strip().upper()
    if not country and len(lines) > 1 and _LETTERS.fullmatch(lines[-1]):
        country = lines.pop()
    last = lines.pop() if len(lines) > 1 else ""
    found = _CODE_FIRST.fullmatch(last) or _CODE_LAST.fullmatch(last)
    return Place(
        tuple(lines),
        found["city"] if found else last,
        found["zone"] if found else "",
        country or usual,
        not country and bool(usual),
    )


def add_party(
    root: ET.Element,
    role: str,
    kept: Mapping[str, str],
    place: Place,
    *,
    untaxed: bool,
    seller: bool = False,
) -> None:
    """The party's elements. `untaxed`: nothing on the document is subject to tax, so that no tax number of
    either side may stand on it (BR-O-02).
    """
    party = add(add(root, f"cac:{role}"), "cac:Party")
    number, email = kept.get("tax_number", "").strip(), kept.get("email", "")
    known_abroad = is_tax_identifier(number, place.country)
    if email:
        add(party, "cbc:EndpointID", email, {"schemeID": "EM"})  # BT-34, BT-49
    if seller and (untaxed or not known_abroad):  # BR-CO-26: something has to tell who sells
        add(add(party, "cac:PartyIdentification"), "cbc:ID", seller_identifier(kept))
    add(add(party, "cac:PartyName"), "cbc:Name", kept["name"])
    _address(party, place)
    if number and not untaxed and (known_abroad or seller):
        scheme = add(party, "cac:PartyTaxScheme")
        add(scheme, "cbc:CompanyID", "".join(number.split()) if known_abroad else number)
        add(add(scheme, "cac:TaxScheme"), "cbc:ID", "VAT" if known_abroad else "TAX")  # BT-31 or BT-32
    add(add(party, "cac:PartyLegalEntity"), "cbc:RegistrationName", kept["name"])
    if kept.get("phone") or email:
        contact = add(party, "cac:Contact")
        for field, words in (("cbc:Telephone", kept.get("phone", "")), ("cbc:ElectronicMail", email)):
            if words:
                add(contact, field, words)


def is_tax_identifier(number: str, country: str) -> bool:
    """Whether a tax number is one that other countries know: it begins with its country's letters (BT-31).

    >>> is_tax_identifier("IE 204118337", "IE"), is_tax_identifier("22/815/0815/4", "DE")
    (True, False)
    """
    joined = "".join(number.split()).upper()
    return any(joined.startswith(prefix) for prefix in _PREFIXES.get(country, (country,)) if prefix)


def seller_identifier(kept: Mapping[str, str]) -> str:
    """What tells the seller from others (BT-29) where no tax number does: local number, mail, phone."""
    return next((kept[name] for name in ("tax_number", "email", "phone") if kept.get(name)), "")


def _address(party: ET.Element, place: Place) -> None:
    address = add(party, "cac:PostalAddress")
    if place.lines:
        add(address, "cbc:StreetName", place.lines[0])
    if len(place.lines) > 1:
        add(address, "cbc:AdditionalStreetName", ", ".join(place.lines[1:]))
    if place.city:
        add(address, "cbc:CityName", place.city)
    if place.zone:
        add(address, "cbc:PostalZone", place.zone)
    add(add(address, "cac:Country"), "cbc:IdentificationCode", place.country)
