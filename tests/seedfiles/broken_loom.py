"""A file of the loom with one of every kind of mistake."""

BROKEN = """
[body.lamp]
words = "lamp"
zone = "attic"
kind = "lamp holder"
off = ["roof"]
cautions = ["shout"]
ways = { feed = "feed", earth = "earth" }
[body.lamp-two]
words = "lamp"
zonee = "tail"
kind = "lamp holder"
[device.bulb]
words = "lamp"
kind = "candle"
from = "lamp:feed"
to = "lamp:earth"
[device.glow]
words = "lamp"
kind = "filament"
from = "lamp:feed"
to = "lamp:earth"
works = ["night"]
[device.link]
words = "link"
kind = "fuse"
from = "lamp:feed"
to = "lamp:fed"
[device.tap]
words = "tap"
kind = "switch"
from = "lamp:feed"
to = "lamp:earth"
at = { dip = "sideways", tap = "on" }
driven_by = ["link", "nobody"]
[device.block]
words = "block"
kind = "diode"
from = "lamp:feed"
to = "lamp:feed@out"
[wire]
long = { from = "lamp:feed", to = "lamp:earth", mm = "long", mm2 = 1, main = "red" }
none = { from = "lamp:feed", to = "lamp:earth", mm = 0, mm2 = 1, main = "red" }
odd = { from = "lamp:feed", to = "lamp:earth", mm = 10, mm2 = 0.33, main = "rde", when = { fuell = "x" } }
bare = { from = "lamp:feed", to = "lamp:earth", mm = 10, kind = "metal", unless = { fuel = "steam" } }
thin = { from = "lamp:feed@up", to = "lamp:earth", mm = 10, mm2 = 1, main = "red" }
Loud = { from = "lamp:feed", to = "lamp:earth", mm = 10, mm2 = 1, main = "red" }
same = { from = "lamp-two:feed", to = "lamp:earth", mm = 10, mm2 = 1, main = "red" }
"""
