"""Gathers an issued document from the desk as an e-invoice."""

from collections.abc import Callable
from functools import partial

from tracker.desk.desk import Desk
from tracker.desk.documents import document_named
from tracker.desk.reading import Reader
from tracker.papers.tongue import speaking
from tracker.papers.ubl import EInvoice, ubl
from tracker.records.document import Document, DocumentLine, DocumentTax


def einvoice_of(desk: Desk, number: str) -> EInvoice:
    """The e-invoice of a document by its number. Raises NotFoundError, or Mistakes with all that it lacks."""
    shop = desk.shop

    def look(reader: Reader) -> Callable[[], EInvoice]:
        document = document_named(reader, shop, number)
        lines = reader.all(DocumentLine, document=document.id, order="position")
        spoken = {line.sets_off for line in lines if line.sets_off}
        spoken |= {document.corrects} if document.corrects else set()
        return partial(
            ubl,
            document,
            lines,
            reader.all(DocumentTax, document=document.id),
            named=reader.all(Document, id=tuple(spoken)),
            country=shop.country,
        )

    write = desk.read(look)  # the store's thread reads, this one speaks
    with speaking(shop.language):
        return write()
