"""Who and what the demo workshop knows. Every person, maker and number is invented."""

from shop.instruments.kinds import BridgeFamily, Kind
from shop.stock.models import ItemKind

PASSWORD = "walnut and brass"  # noqa: S105 - of the demo, printed at the first start
STAFF = (
    ("ilse", "Ilse Varn", "owner"),
    ("tomas", "Tomas Reil", "bench"),
    ("nadia", "Nadia Quist", "counter"),
)
WORKSHOP = {
    "name": "Hollow Lane Instruments",
    "address": "4 Hollow Lane\nMarlow Quay\nZZ1 4QX",
    "phone": "+44 1632 960010",
    "email": "bench@hollowlane.example.com",
    "website": "hollowlane.example.com",
    "opening_hours": "Tue–Fri 10:00–18:00\nSat 10:00–14:00",
    "country": "DE",
    "tax_number": "00/042/08150",
    "currency": "EUR",
    "iban": "DE89 3704 0044 0532 0130 00",
    "invoice_terms": "Payable within 14 days. Thank you for trusting us with your instrument.",
    "intake_terms": "We work to the agreed lines only and ask before doing more. Please collect within 30 days of our "
    "message; what applies after that is settled by local law.",
    "rack_slots": "\n".join(f"{letter}{number}" for letter in "AB" for number in range(1, 9)),
}
PRICES = (
    ("Full setup, two-post bridge", ItemKind.WORK, "95.00", 90),
    ("Full setup, flat plate or vibrato", ItemKind.WORK, "105.00", 105),
    ("Setup, acoustic", ItemKind.WORK, "85.00", 75),
    ("Nut slots dressed", ItemKind.WORK, "35.00", 30),
    ("New nut, bone", ItemKind.WORK, "110.00", 120),
    ("Frets levelled and crowned", ItemKind.WORK, "190.00", 210),
    ("Electrics checked and cleaned", ItemKind.WORK, "40.00", 30),
    ("Saddle glued in anew", ItemKind.WORK, "60.00", 60),
    ("Looked over, no work", ItemKind.WORK, "20.00", 15),
    ("Bridge, two-post, with saddles", ItemKind.PART, "68.00", 0),
    ("Tailpiece studs, pair", ItemKind.PART, "14.50", 0),
    ("Output socket", ItemKind.PART, "6.50", 0),
    ("Strings, electric six, light", ItemKind.STRINGS, "9.50", 0),
    ("Strings, acoustic six, light", ItemKind.STRINGS, "13.00", 0),
    ("Strings, bass four, medium", ItemKind.STRINGS, "28.00", 0),
    ("Strings, nylon six", ItemKind.STRINGS, "12.00", 0),
)
# (name, e-mail, telephone, our number there, note)
SUPPLIERS = (
    ("Weir & Loft Strings", "orders@weirloft.example.com", "+44 1632 960041", "HL-2207", "Carriage free over 150."),
    ("Tannery Yard Hardware", "desk@tanneryyard.example.com", "+44 1632 960042", "40118", "Two weeks for studs."),
    ("Old Brewery Parts", "", "+44 1632 960043", "", "By telephone only."),
)
# item: (cost, supplier, its number there, where it lies, reorder at, order up to, on the shelf at the start)
SHELF = {
    "Strings, electric six, light": ("5.20", 0, "E6-L", "drawer 1", 6, 24, 18),
    "Strings, acoustic six, light": ("7.40", 0, "A6-L", "drawer 1", 4, 12, 10),
    "Strings, bass four, medium": ("16.90", 0, "B4-M", "drawer 2", 2, 6, 5),
    "Strings, nylon six": ("6.80", 0, "N6", "drawer 2", 2, 6, 5),
    "Bridge, two-post, with saddles": ("34.00", 1, "TP-61", "cabinet A", 1, 3, 2),
    "Tailpiece studs, pair": ("6.10", 1, "ST-M8", "cabinet A", 2, 6, 2),
    "Output socket": ("2.35", 2, "", "cabinet B", 4, 12, 9),
}
LAST_COUNT = {"Output socket": 3, "Strings, electric six, light": 3, "Bridge, two-post, with saddles": 1}
ON_PLATE = ("Full setup, flat plate or vibrato", "Strings, electric six, light")
USUAL_WORK = {
    BridgeFamily.TWO_POST_STOP: ("Full setup, two-post bridge", "Strings, electric six, light"),
    BridgeFamily.VIBRATO: ON_PLATE,
    BridgeFamily.FLOATING: ("Setup, acoustic", "Strings, electric six, light"),
    BridgeFamily.PINNED: ("Setup, acoustic", "Strings, acoustic six, light"),
    BridgeFamily.TIED: ("Setup, acoustic", "Strings, nylon six"),
    BridgeFamily.FLAT_PLATE: (ON_PLATE[0], "Strings, bass four, medium"),
}
FIRST = ("Mara", "Jonas", "Ottilie", "Ravi", "Signe", "Bram", "Léa", "Pavel", "Inés", "Tove", "Ammar", "Greta",
         "Callum", "Zofia", "Henk", "Yusra", "Marek", "Birte", "Osei", "Lotte")  # fmt: skip
LAST = ("Fell", "Ashgrove", "Tarn", "Quillon", "Bergholt", "Marsk", "Odell", "Žalman", "Rivero", "Stenhus", "Kadir",
        "Lindqvall", "Penrow", "Wierzba", "Dolven", "Haddrad", "Straka", "Nörrby", "Amoako", "Veldt")  # fmt: skip
MAKERS = ("Larkrise", "Orme & Dale", "Brackwater", "Tinhollow", "Sedgewright", "Coldharbour Lutherie")
MODELS = {
    Kind.ELECTRIC: ("Harrow", "Kestrel", "Two-Post Standard", "Meridian", "Foundry"),
    Kind.STEEL: ("Parlour", "Drover", "Longshore"),
    Kind.NYLON: ("Cypress", "Evening"),
    Kind.BASS: ("Ferry", "Deep Lane"),
    Kind.ARCHTOP: ("Quayside", "Lantern"),
}
# The bridge that the bench knows best, and those that come between.
USUAL_BRIDGE = (Kind.ELECTRIC, BridgeFamily.TWO_POST_STOP)
OTHER_BRIDGES = (
    (Kind.STEEL, BridgeFamily.PINNED),
    (Kind.BASS, BridgeFamily.FLAT_PLATE),
    (Kind.ELECTRIC, BridgeFamily.VIBRATO),
    (Kind.ARCHTOP, BridgeFamily.FLOATING),
    (Kind.NYLON, BridgeFamily.TIED),
)
STRINGS = {Kind.BASS: 4}
COLOURS = ("dark cherry", "natural", "sea green", "black", "honey burst", "cream", "walnut", "wine")
COMPLAINTS = (
    "Buzzes on the low strings between the fifth and the ninth fret.",
    "High up the neck it never sounds in tune, most of all on the third string.",
    "Strings feel stiff and stand too high since the winter.",
    "The lowest string jumps out of its saddle when played hard.",
    "Third string breaks at the bridge every few weeks.",
    "Wants it lower, with a lighter set of strings.",
    "Goes out of tune after every bend.",
    "Has not been looked at for years; make it play.",
)
SECOND_COMPLAINT = "Has hung on the wall for two years; it should come back to life, too."
FOUND_AT_THE_BENCH = "Frets levelled and crowned"
# (days from today, how many days, what for)
CLOSED = ((10, 1, "Stocktaking"), (26, 9, "Holidays"))
CONDITION = (
    "Small dent on the lower bout, finish worn at the arm rest.",
    "Clean. A chip at the headstock tip, old.",
    "Fine checking across the top, nothing loose.",
    "Buckle marks on the back; one tuner button replaced.",
)
CAME_WITH = ("hard case", "soft bag and strap", "soft bag, capo, spare strings", "nothing but the instrument")
WATCH = (
    "The neck moves with the season: look at the relief in winter.",
    "The third string's saddle has little room left at the rear.",
    "Nut slots will want dressing in a year or so.",
    "",
)
TASTES = ("Low, light touch, plays with the fingers.", "Hard picking; rather high than buzzing.", "")
