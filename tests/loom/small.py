"""Small looms in the pattern's own format: heated grips, a module with a sensor."""

GRIPS = """
[body.grips]
words = "heated grips"
zone = "left-bar"
kind = "heater"
joint = "blade"
ways = { feed = "feed", left-out = "left grip, out", right-in = "right grip, in", earth = "earth" }
[device.grip-left]
words = "left grip"
kind = "heater"
from = "grips:feed"
to = "grips:left-out"
watts = 20
works_from = 0.4
works = ["off"]
[device.grip-right]
words = "right grip"
kind = "heater"
from = "grips:right-in"
to = "grips:earth"
watts = 20
works_from = 0.4
works = ["off"]
[device.grips-series]
words = "grip switch, low"
kind = "switch"
from = "grips:left-out"
to = "grips:right-in"
at = { grips = "low" }
[device.grips-left-earth]
words = "grip switch, high, left"
kind = "switch"
from = "grips:left-out"
to = "grips:earth@in"
at = { grips = "high" }
[device.grips-right-feed]
words = "grip switch, high, right"
kind = "switch"
from = "grips:feed@out"
to = "grips:right-in"
at = { grips = "high" }
[wire]
grips-feed = { from = "battery:live", to = "grips:feed", mm = 900, mm2 = 1, main = "red" }
grips-earth = { from = "grips:earth", to = "frame", mm = 300, mm2 = 1, main = "black" }
"""

SENSORS = """
[body.box]
words = "box"
zone = "seat"
kind = "module"
[body.box.ways]
feed = "feed"
earth = "earth"
five = "5 V"
sensor-earth = "sensor earth"
lamp = "lamp"
ask = "asked"
[device.box-electronics]
words = "box"
kind = "module"
from = "box:feed"
to = "box:earth"
current_a = 0.3
works = ["key-on"]
[device.box-five]
words = "5 V pin"
kind = "source"
source = "module pin"
from = "box:sensor-earth"
to = "box:five@in"
driven_by = "box-electronics"
volts = 5
inner_ohm = 50
[device.box-lamp-output]
words = "lamp output"
kind = "switch"
from = "box:feed"
to = "box:lamp"
driven_by = ["box-electronics", "box-lamp-input"]
driven = "all"
ohm = 0.05
[device.box-lamp-input]
words = "lamp input"
kind = "module"
from = "box:ask"
to = "box:earth@in"
ohm = 10000
works = ["head-low"]
[body.throttle]
words = "throttle sensor"
zone = "inlet"
kind = "sensor"
ways = { five = "5 V", earth = "sensor earth" }
[device.throttle-track]
words = "throttle sensor"
kind = "sensor"
from = "throttle:five"
to = "throttle:earth"
ohm = 5000
range_ohm = [4000, 6000]
rated_v = 5
works = ["key-on"]
[body.lamp]
words = "lamp"
zone = "tail"
kind = "lamp holder"
joint = "holder"
ways = { feed = "feed", earth = "earth" }
[device.bulb]
words = "lamp"
kind = "filament"
from = "lamp:feed"
to = "lamp:earth"
watts = 5
works = ["head-low"]
[device.key-contact]
words = "key"
kind = "switch"
from = "battery:live"
to = "box:feed@in"
at = { key = "on" }
[device.light-contact]
words = "light switch"
kind = "switch"
from = "box:feed@in"
to = "box:ask"
at = { lights = "on" }
[wire]
box-earth = { from = "box:earth", to = "frame", mm = 200, mm2 = 1, main = "black" }
sensor-five = { from = "box:five", to = "throttle:five", mm = 500, mm2 = 0.5, main = "red" }
sensor-earth = { from = "throttle:earth", to = "box:sensor-earth", mm = 500, mm2 = 0.5, main = "black" }
lamp-feed = { from = "box:lamp", to = "lamp:feed", mm = 500, mm2 = 0.5, main = "white" }
lamp-earth = { from = "lamp:earth", to = "frame", mm = 200, mm2 = 0.5, main = "black" }
"""
