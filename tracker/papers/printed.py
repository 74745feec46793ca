"""Papers as this shop prints them: its picture at the head, its language, the instant of printing."""

from tracker.desk.desk import Desk
from tracker.desk.picture import picture_of
from tracker.papers.paper import Paper
from tracker.papers.pdf import A4, LETTER, Pdf, pdf
from tracker.papers.tongue import speaking


def printed(
    desk: Desk, paper: Paper, *, letter: bool = False, xml: tuple[str, bytes] | None = None
) -> tuple[Pdf, tuple[str, ...]]:
    """A paper as PDF, and what the person should know of it in sentences.

    `letter` takes Letter paper instead of A4; `xml` is a file name and the e-invoice that goes inside. A
    picture that turns out to be none does not keep the paper from being printed.
    """
    picture = desk.read(picture_of)
    at, shop, page = desk.clock.now(), desk.shop, LETTER if letter else A4
    with speaking(shop.language):
        if picture is not None:
            try:
                return pdf(paper, at=at, shop=shop.name, page=page, picture=picture, xml=xml), ()
            except ValueError:
                said = "The shop's picture cannot be printed: loomcard settings picture FILE sets another."
                return pdf(paper, at=at, shop=shop.name, page=page, xml=xml), (said,)
        return pdf(paper, at=at, shop=shop.name, page=page, xml=xml), ()
