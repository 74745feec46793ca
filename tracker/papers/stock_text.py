"""The parts list and one part of it as plain text, 80 columns wide."""

from collections.abc import Sequence

from tracker.clock import Clock
from tracker.desk.show import PartView, StockRow
from tracker.papers.twins import row, table


def stock_text(rows: Sequence[StockRow], currency: str) -> str:
    """The parts list with its stock."""
    if not rows:
        return "The parts list is empty. loomcard stock add CODE NAME --price P begins it."
    body = [
        (
            r.part.code,
            r.part.name,
            f"{r.stock:f}",
            f"{r.free:f}",
            f"{r.wanted + r.on_order:f}",
            f"{r.part.price:f}",
            "low" if r.part.least and r.stock <= r.part.least else "",
        )
        for r in rows
    ]
    head = [("code", "part", "stock", "free", "wanted", currency, "")]
    code = max(12, *(len(r.part.code) for r in rows))  # a code that is cut finds nothing
    return "\n".join(table([*head, *body], (code, 0, 6, 5, 6, 8, 3), frozenset({2, 3, 4, 5})))


def part_text(view: PartView, currency: str, clock: Clock) -> str:
    """A part whole."""
    part, stock = view.row.part, view.row
    lines = [f"{part.code}  {part.name}"]
    price = f"{part.price:f} {currency} a {part.unit}"
    lines += row("Price", [price + (f", cost {part.cost:f}" if part.cost else "")])
    lines += row("Tax", [f"{part.tax_rate:f} per cent"] if part.tax_rate is not None else ["as usual"])
    lines += row("Stock", [f"{stock.stock:f}, of it free {stock.free:f}"])
    waits = f"wanted {stock.wanted:f}, on order {stock.on_order:f}"
    lines += row("Waiting", [waits if stock.wanted or stock.on_order else ""])
    lines += row("Reorder at", [f"{part.least:f}" if part.least else ""])
    lines += row("Shelf", [part.place])
    lines += row("Supplier", [part.supplier])
    lines += row("Cards", [f"{number}  {w.qty:f} {w.state}" for number, w in view.cards])
    lines += row(
        "Moves", [f"{clock.date_of(m.at)}  {m.qty:+f} {m.kind}  {n}".rstrip() for m, n in view.moves]
    )
    return "\n".join(lines)
