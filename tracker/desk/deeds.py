"""Every deed by its verb: the command line and the screens find them here, and load one when it is done."""

import importlib
from typing import Any

DEEDS: dict[str, str] = {
    "book-in": "book_in:BookIn",
    "came": "coming:BikeCame",
    "look": "look:Look",
    "read": "take_reading:TakeReading",
    "probe": "trace_read:ReadCheck",
    "doubt": "trace_read:DoubtCheck",
    "bar": "trace_read:BarPlace",
    "visit begin": "visits:BeginVisit",
    "visit end": "visits:EndVisit",
    "finding": "look:WriteFinding",
    "offer": "ways:OfferWays",
    "choose": "ways:ChooseWay",
    "estimate": "estimate:MakeEstimate",
    "agree": "agree:Agree",
    "start": "fix:StartRepair",
    "fix": "fix:FixRepair",
    "drop": "fix:DropRepair",
    "clock on": "clocking:ClockOn",
    "clock off": "clocking:ClockOff",
    "clock add": "clocking:AddTime",
    "clock fix": "clocking:FixTime",
    "part want": "parts:WantPart",
    "part order": "parts:OrderPart",
    "part arrived": "parts:PartArrived",
    "part fit": "parts:FitPart",
    "part wrong": "parts:WrongPart",
    "test": "take_reading:ReadAfter",
    "bill": "bill:Bill",
    "pay": "pay:Pay",
    "write-off": "pay:WriteOffRest",
    "collect": "collect:Collect",
    "recheck": "recheck:DoRecheck",
    "call": "look:WriteCall",
    "photo": "look:AddPhoto",
    "waive": "agree:Waive",
    "end": "agree:EndCard",
    "undo": "undoing:Undo",
    "card change": "cards:ChangeCard",
    "customer add": "people:AddCustomer",
    "customer change": "people:ChangeCustomer",
    "customer erase": "privacy:EraseCustomer",
    "bike add": "bikes:AddBike",
    "bike change": "bikes:ChangeBike",
    "bike figure": "figures:KeepFigure",
    "loom move": "loom_edit:MovePart",
    "loom wire": "loom_edit:ChangeWire",
    "loom plug": "loom_edit:ChangePlug",
    "loom rename": "loom_edit:RenamePart",
    "loom add": "loom_add:AddPart",
    "loom remove": "loom_edit:RemovePart",
    "loom forget": "loom_edit:ForgetFact",
    "loom own": "loom_edit:OwnLoom",
    "stock add": "stock:AddPart",
    "stock arrived": "stock:StockArrived",
    "rules change": "own_rules:ChangeRule",
    "rules restore": "own_rules:RestoreRule",
    "rechecks change": "own_rechecks:ChangeRechecks",
    "rechecks restore": "own_rechecks:RestoreRechecks",
    "settings change": "shop:ChangeSettings",
    "settings picture": "picture:SetPicture",
}
"""Verb to `module:Class` inside the desk, in the order of a card's life."""


def deed(verb: str) -> type[Any]:
    """The class of a deed; its module is imported only now. KeyError for an unknown verb."""
    module, _, name = DEEDS[verb].partition(":")
    found: type[Any] = getattr(importlib.import_module(f"tracker.desk.{module}"), name)
    return found
