"""Gathers an issued document from the desk as an e-invoice."""

from tracker.desk.desk import Desk
from tracker.desk.documents import document_named
from tracker.desk.reading import Reader
from tracker.papers.ubl import EInvoice, ubl
from tracker.records.document import Document, DocumentLine, DocumentTax


def einvoice_of(desk: Desk, number: str) -> EInvoice:
    """The e-invoice of a document by its number. Raises NotFoundError, or Mistakes with all that it lacks."""
    shop = desk.shop

    def look(reader: Reader) -> EInvoice:
        document = document_named(reader, shop, number)
        lines = reader.all(DocumentLine, document=document.id, order="position")
        spoken = {line.sets_off for line in lines if line.sets_off}
        spoken |= {document.corrects} if document.corrects else set()
        return ubl(
            document,
            lines,
            reader.all(DocumentTax, document=document.id),
            named=reader.all(Document, id=tuple(spoken)),
            country=shop.country,
        )

    return desk.read(look)
