"""A field of strings and frets: a row a string, the frets where they are on the board, a mark in each place.

What the buzz map and the cents map share. Marks differ in shape, not only in colour.
"""

from shop.worksheets.drawings.canvas import Canvas, Frame

WIDTH, LEFT, RIGHT, TOP, ROW = 380, 46, 66, 30, 26
SHOWN_FRETS = (1, 3, 5, 7, 9, 12, 15, 17, 19, 21, 24)
FOOT = 76


class Field:
    """The board from above, nut on the left; its mirror image for a left-handed player has the nut on the right."""

    def __init__(self, numbers, fret_x, *, name, title, says, mirrored):
        self.strings = list(reversed(numbers))  # the highest on top, as it lies under the eye
        self.mirrored = mirrored
        self.height = TOP + ROW * len(numbers) + FOOT
        self.canvas = Canvas(WIDTH, self.height, name=name, title=title, says=says)
        self.frame = Frame.stretch((LEFT, TOP, WIDTH - LEFT - RIGHT, 1), (0.0, fret_x[-1]), (0.0, 1.0))
        self.fret_x = [0.0, *fret_x]
        self.draw_board()

    def x(self, mm):
        at = self.frame.at(mm, 0.0)[0]
        return WIDTH - at if self.mirrored else at

    def y(self, number):
        return TOP + ROW * (self.strings.index(number) + 0.5)

    def middle(self, fret):
        """Where a finger stands for `fret`; the open string beside the nut."""
        if fret == 0:
            return self.x(0.0) + (12 if self.mirrored else -12)
        return (self.x(self.fret_x[fret - 1]) + self.x(self.fret_x[fret])) / 2

    def half(self, fret):
        """Half the room between two frets."""
        return 8.0 if fret == 0 else abs(self.x(self.fret_x[fret]) - self.x(self.fret_x[fret - 1])) / 2

    def draw_board(self):
        low, high = TOP, TOP + ROW * len(self.strings)
        left, right = sorted((self.x(0.0), self.x(self.fret_x[-1])))
        self.canvas.add("rect", "body", x=left, y=low, width=right - left, height=high - low)
        self.canvas.line("string", (self.x(0.0), low), (self.x(0.0), high), stroke_width=3)
        for fret, place in enumerate(self.fret_x[1:], start=1):
            self.canvas.line("faint", (self.x(place), low), (self.x(place), high))
            if fret in SHOWN_FRETS and (self.half(fret) > 7 or fret in (12, 17, 21)):
                self.canvas.text((self.middle(fret), low - 8), str(fret), role="soft", anchor="middle", size=14)
        for number in self.strings:
            self.canvas.line("faint", (left, self.y(number)), (right, self.y(number)))
            self.name_string(number)

    def name_string(self, number):
        at = (WIDTH - 4 if self.mirrored else 4, self.y(number) + 6)
        self.canvas.text(at, str(number), anchor="end" if self.mirrored else "start", weight=700)

    def beside(self, number, words, role):
        """A word at the body's end of a string's row."""
        at = (RIGHT - 8 if self.mirrored else WIDTH - RIGHT + 8, self.y(number) + 6)
        self.canvas.text(at, words, role=role, anchor="end" if self.mirrored else "start", size=16)

    def cross(self, number, fret):
        x, y, r = self.middle(fret), self.y(number), min(6.0, max(2.5, self.half(fret) - 1.0))
        for way in (1, -1):
            self.canvas.line("amiss", (x - r, y - r * way), (x + r, y + r * way), data_string=number, data_fret=fret)

    def ring(self, number, fret):
        r = min(4.5, max(2.0, self.half(fret) - 1.5))
        self.canvas.dot("close", (self.middle(fret), self.y(number)), r, data_string=number, data_fret=fret)

    def bar(self, number, fret, up, *, amiss):
        """A bar up or down from the string's line; up is sharp."""
        x, y = self.middle(fret), self.y(number)
        wide = min(7.0, max(2.0, 1.3 * self.half(fret)))
        self.canvas.add("rect", "past" if amiss else "within", x=x - wide / 2, y=min(y, y - up), width=wide,
                        height=max(abs(up), 1.0), data_string=number, data_fret=fret)  # fmt: skip

    def legend(self, lines):
        for count, words in enumerate(lines):
            self.canvas.text((4, self.height - FOOT + 24 + 22 * count), words, role="soft", size=16)
