"""What keeps a document from being an e-invoice, in words, all of it at once."""

from collections.abc import Iterator, Sequence

from tracker.papers.ubl_party import Place, seller_identifier
from tracker.records.document import Document, DocumentKind, DocumentTax
from tracker.records.money import exponent
from tracker.records.problem import Problem

_NO_COUNTRIES = frozenset(
    {"AC", "CP", "CQ", "DG", "EA", "EU", "EZ", "IC", "QO", "TA", "UN", "XA", "XB", "ZZ"}
)
"""Two-letter codes that the territories' list has beside those of ISO 3166-1."""
_ISSUED = "It was issued so; credit it and bill again once that is filled in."


def ubl_problems(
    document: Document, taxes: Sequence[DocumentTax], named: Sequence[Document], seller: Place, buyer: Place
) -> tuple[Problem, ...]:
    """All that EN 16931 asks for and the document lacks; empty when it can be written."""
    return (
        *_seller(document, taxes, seller),
        *_buyer(document, buyer),
        *_sums(document, taxes),
        *_named(document, named),
    )


def _seller(document: Document, taxes: Sequence[DocumentTax], place: Place) -> Iterator[Problem]:
    if not document.seller.get("name", "").strip():  # BR-06
        yield Problem("seller.name", "The shop's name is not on the document.", _ISSUED)
    if not place.country:  # BR-09
        hint = "loomcard settings change --country IE"
        yield Problem("seller.country", "Nobody has said in which country the shop is.", hint)
    elif not is_country(place.country):  # BR-CL-14
        hint = "Two letters by ISO 3166-1, for instance IE."
        yield Problem("seller.country", "The shop's country is none.", hint, place.country)
    taxed = any(tax.category != "O" for tax in taxes)
    if taxed and not document.seller.get("tax_number", "").strip():  # BR-S-02, BR-Z-02, BR-E-02
        yield Problem("seller.tax_number", "The shop's tax number is not on the document.", _ISSUED)
    elif not seller_identifier(document.seller):  # BR-CO-26
        sentence = "The shop has neither a tax number nor a mail address nor a phone number on the document."
        yield Problem("seller.tax_number", sentence, _ISSUED)


def _buyer(document: Document, place: Place) -> Iterator[Problem]:
    if not document.buyer.get("name", "").strip():  # BR-07
        yield Problem("buyer.name", "Nobody is named on the document who is billed.", _ISSUED)
    if not document.buyer.get("address", "").strip():  # BR-10
        yield Problem("buyer.address", "The customer's address is not on the document.", _ISSUED)
    if place.country and not place.country_supposed and not is_country(place.country):
        yield Problem("buyer.country", "The customer's country is none.", given=place.country)


def _sums(document: Document, taxes: Sequence[DocumentTax]) -> Iterator[Problem]:
    if exponent(document.currency) > 2:  # BR-DEC-09 and those after it
        sentence = (
            f"An e-invoice has two decimals at most, {document.currency} has {exponent(document.currency)}."
        )
        yield Problem("currency", sentence, "Send the PDF.")
    if not taxes:  # BR-CO-18
        yield Problem(
            "taxes", "The document was kept without its tax groups.", "loomcard check looks at the file."
        )
    if document.allowance_total_minor or document.charge_total_minor:
        yield Problem("allowances", "What was taken off the whole document is not kept row by row.")


def _named(document: Document, named: Sequence[Document]) -> Iterator[Problem]:
    if document.kind is DocumentKind.CREDIT_NOTE and document.corrects not in {one.id for one in named}:
        yield Problem("corrects", "The document that the credit note names is not known.")  # BR-55


def is_country(code: str) -> bool:
    """Whether two letters are a country's.

    >>> is_country("IE"), is_country("XX")
    (True, False)
    """
    from babel import Locale

    return len(code) == 2 and code not in _NO_COUNTRIES and code in Locale("en").territories
