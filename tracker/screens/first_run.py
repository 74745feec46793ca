"""The first run asks four things and starts: how you work, the name, currency and tax, km or miles."""

from tracker.screens.form import FormPage

FOUR = ("mode", "name", "currency", "tax_rate", "distance_unit")


class FirstRunPage(FormPage):
    """Four questions; everything else has a default and waits under settings."""

    def __init__(self) -> None:
        from tracker.desk.ask import fields_of
        from tracker.desk.deeds import deed

        others = frozenset(f.name for f in fields_of(deed("settings change")) if f.name not in FOUR)
        given = {"mode": "workshop", "currency": "EUR", "tax_rate": "20", "distance_unit": "km"}
        super().__init__("settings change", given, others)

    async def refresh_page(self) -> None:
        """Says what it is."""
        await super().refresh_page()
        self.head("Welcome. Four things, then it starts; the rest waits under settings (e).")
