# SPDX-License-Identifier: GPL-3.0-or-later
"""The sample streams of fixtures/streams, said byte by byte with the record that each part must give.

The expected records are written here by hand, from docs/device-lines.md, and never taken from the
program. Checksums are computed here, apart from the program's own.

A stream is (name, about, options, parts); a part is (bytes, [records]).
"""
import functools
import operator

TRAVEL = "travel=0:1200:0:800:-120:0"
STEPS = "steps=80:80:400"
TOUCH = "template=touch {n} at X:{x} Y:{y} Z:{z} ok:1"


def sentence(body, end=b"\r\n", spoil=0):
    """A sentence with its checksum (IEC 61162-1: exclusive or of what stands between $ and *)."""
    data = body.encode()
    check = functools.reduce(operator.xor, data, 0) ^ spoil
    return b"$" + data + b"*%02X" % check + end


def hit(number, us, z, end=b"\r\n"):
    """A sound touch and its record."""
    return (sentence(f"TUHIT,{number},{us},Z-,100.0000,80.0000,{z},2,310", end),
            [f"hit x=100 y=80 z={z.rstrip('0')} axis=z dir=- seq={number} us={us} bounces=2 bounce_us=310"])


def show(data):
    return '"' + "".join(chr(b) if 0x20 <= b <= 0x7E and b not in b'"\\' else f"\\x{b:02x}" for b in data) + '"'


def unread(data, reason, end=b"\r\n"):
    return data + end, [f"unread {show(data)} {reason}"]


HELLO = sentence("TUHLO,bench probe,1.0,0")
HELLO_RECORD = 'hello "bench probe 1.0" seq=0'
NOT_TEXT = "a line that is not text: control characters, or bytes that are no UTF-8"
WRONG_SUM = "a sentence with a wrong checksum"
REST = "the rest of a line that is too long"
OUTSIDE = "the position lies outside the machine's travel"
STALE = "step counts after a restart, which began anew where nobody knows"
FIELDS = "a sentence with too few or too many fields"

STREAMS = [
    ("clean", "A device that starts, says hello and sends five touches.", [TRAVEL], [
        (HELLO, [HELLO_RECORD]),
        hit(1, 6000137, "-40.1200"), hit(2, 7250011, "-40.1175"), hit(3, 8500025, "-40.1225"),
        hit(4, 9750004, "-40.1200"), hit(5, 11000019, "-40.1150"),
    ]),
    ("line_ends", "CR LF, LF and CR end a line alike; blank lines say nothing.", [], [
        hit(1, 1000, "-1.5", b"\n"), hit(2, 2000, "-2.5", b"\r"), (b"\r\n\n \t \n", []),
        hit(3, 3000, "-3.5", b"\n\r"), hit(4, 4000, "-4.5"),
    ]),
    ("fields", "Sentences with empty fields, and with fields that can't be.", [TRAVEL], [
        (sentence("TUHIT,,,,1.0,2.0,-3.0,,"), ["hit x=1 y=2 z=-3"]),
        (sentence("TUHIT,7,,X,1.0,2.0,-3.0,,"), ["hit x=1 y=2 z=-3 axis=x seq=7"]),
        (sentence("TUHIT,8,18446744073709551615,Y+,1.0,2.0,-3.0,0,0"),
         ["hit x=1 y=2 z=-3 axis=y dir=+ seq=8 us=18446744073709551615"]),
        unread(sentence("TUHIT,9,,,,,,0,0", b""), "a coordinate is missing"),
        unread(sentence("TUHIT,10,,,1.0,,-3.0,,", b""), "a coordinate is missing"),
        unread(sentence("TUHIT,11,,,1.0,nan,-3.0,,", b""), "a coordinate is not a number"),
        unread(sentence("TUHIT,12,,,1.0,inf,-3.0,,", b""), "a coordinate is not a number"),
        unread(sentence("TUHIT,13,,,1.0,1e999,-3.0,,", b""), "a coordinate is not a number"),
        unread(sentence("TUHIT,14,,,1.0,0x1,-3.0,,", b""), "a coordinate is not a number"),
        unread(sentence("TUHIT,15,,,1.0,2.0,-120.5,,", b""), OUTSIDE),
        unread(sentence("TUHIT,16,,,1.0,2.0,-3.0", b""), FIELDS),
        unread(sentence("TUHIT,16,,,1.0,2.0,-3.0,,,,", b""), FIELDS),
        unread(sentence("TUHIT,16,,,1,0,2,0,-3,0,,,1,2", b""), FIELDS),
        unread(sentence("TUHIT,4294967296,,,1.0,2.0,-3.0,,", b""),
               "the number of the sentence is not a whole number of 32 bits"),
        unread(sentence("TUHIT,-1,,,1.0,2.0,-3.0,,", b""),
               "the number of the sentence is not a whole number of 32 bits"),
        unread(sentence("TUHIT,16,1.5,,1.0,2.0,-3.0,,", b""), "the device's time is not a whole number"),
        unread(sentence("TUHIT,17,18446744073709551616,,1.0,2.0,-3.0,,", b""),
               "the device's time is not a whole number"),
        unread(sentence("TUHIT,16,,Z*,1.0,2.0,-3.0,,", b""), "a sentence whose checksum is not two digits"),
        unread(sentence("TUHIT,18,,-Z,1.0,2.0,-3.0,,", b""),
               "the movement is not an axis and a direction, as in Z-"),
        unread(sentence("TUHIT,19,,A+,1.0,2.0,-3.0,,", b""),
               "the movement is not an axis and a direction, as in Z-"),
        unread(sentence("TUHIT,20,,,1.0,2.0,-3.0,-1,", b""), "the bounces are not whole numbers"),
        unread(sentence("TUHIT", b""), "a sentence with too few or too many fields"),
        unread(sentence("TUHITS,1", b""), FIELDS),
        unread(sentence("TUXYZ,1,2", b""), "a sentence of another kind"),
        unread("$TUHLO,pièce,1.0,0*89".encode(), WRONG_SUM),
        unread("$TUHLO,pièce,1.0,0*0D".encode(), "a sentence that is not plain ASCII"),
        unread(sentence("TU", b""), "a sentence of another kind"),
        unread(b"$*00", "a sentence of another kind"),
        unread(sentence("TUHLO,a name that goes on and on and on and on and on,1.0 and so forth,0", b""),
               "the device's name and version are too long"),
        (sentence("TUHIT,21,,,1.0,2.0,-3.0,,"), ["hit x=1 y=2 z=-3 seq=21"]),
    ]),
    ("counts", "Step counts: 80 steps per mm in X and Y, 400 in Z. Divided by pencil.", [TRAVEL, STEPS], [
        (HELLO, [HELLO_RECORD]),
        (sentence("TUCNT,1,7250011,Z-,8000,6400,-3210,2,388"),
         ["hit x=100 y=80 z=-8.025 axis=z dir=- seq=1 us=7250011 bounces=2 bounce_us=388"]),
        (sentence("TUCNT,2,8250011,X+,8001,6400,0,0,0"),
         ["hit x=100.0125 y=80 z=0 axis=x dir=+ seq=2 us=8250011"]),
        unread(sentence("TUCNT,3,9250011,X+,8001.5,6400,0,0,0", b""), "a coordinate is not a number"),
        unread(sentence("TUCNT,4,9350011,X+,8001,6400,,0,0", b""), "a coordinate is missing"),
        unread(sentence("TUCNT,5,9450011,X+,-1,6400,0,0,0", b""), OUTSIDE),
        (sentence("TUCNT,6,9550011,X+,8001,6400,-400,0,0"),
         ["hit x=100.0125 y=80 z=-1 axis=x dir=+ seq=6 us=9550011"]),
    ]),
    ("counts_without_steps", "Step counts that nobody can turn into lengths.", [TRAVEL], [
        unread(sentence("TUCNT,1,7250011,Z-,8000,6400,-3210,2,388", b""),
               "step counts, and the shop file states no steps_per_mm for each axis"),
        (sentence("TUHIT,2,8250011,Z-,1.0,2.0,-3.0,0,0"), ["hit x=1 y=2 z=-3 axis=z dir=- seq=2 us=8250011"]),
    ]),
    ("counts_after_restart", "A restart in the middle: from there on counts start anew, where nobody knows.",
     [TRAVEL, STEPS], [
         (HELLO, [HELLO_RECORD]),
         (sentence("TUCNT,1,7250011,Z-,8000,6400,-3200,0,0"),
          ["hit x=100 y=80 z=-8 axis=z dir=- seq=1 us=7250011"]),
         (HELLO, ["restart", HELLO_RECORD]),
         unread(sentence("TUCNT,1,2250011,Z-,0,0,-3200,0,0", b""),
                STALE),
         (sentence("TUHIT,2,3250011,Z-,1.0,2.0,-3.0,0,0"),
          ["hit x=1 y=2 z=-3 axis=z dir=- seq=2 us=3250011"]),
     ]),
    ("corrupted", "One byte changed, lost or put in, here and there.", [TRAVEL, TOUCH], [
        hit(1, 1000000, "-40.1200"),
        unread(b"$TUHIT,2,2000000,Z-,100.0000,80.0000,-48.1200,2,310*2E", WRONG_SUM),
        (hit(3, 3000000, "-40.1200")[0], ["lost 1 before=3", *hit(3, 3000000, "-40.1200")[1]]),
        unread(sentence("TUHIT,4,4000000,Z-,100.0000,80.0000,-40.1200,2,310", b"", spoil=1), WRONG_SUM),
        unread(b"$TUHIT,5,5000000,Z-,100.0000,80.0000,-40.1200,2,310", "a sentence without a checksum"),
        unread(b"$TUHIT,6,6000000,Z-,100.0000,80.0000,-40.1200,2,310*2",
               "a sentence whose checksum is not two digits"),
        unread(b"$TUHIT,7,7000000,Z-,100.0000,80.0000,-40.1200,2,310*2G",
               "a sentence whose checksum is not two digits"),
        unread(sentence("TUHIT,8,8000000,Z-,100.0000,80.0000,-40.1200,2,310", b"0"),
               "a sentence whose checksum is not two digits"),
        unread(hit(9, 9000000, "-40.1200", b"")[0][1:], "text that fits no template"),
        (hit(10, 10000000, "-40.1200")[0], ["lost 6 before=10", *hit(10, 10000000, "-40.1200")[1]]),
        # the line end between two sentences is lost: the second is whole
        (hit(11, 11000000, "-40.1200", b"")[0] + hit(12, 12000000, "-40.1200")[0],
         [f'unread {show(hit(11, 11000000, "-40.1200", b"")[0])} cut short by a sentence that starts in mid-line',
          "lost 1 before=12", *hit(12, 12000000, "-40.1200")[1]]),
        # lower-case digits are the same number
        (sentence("TUHIT,13,13000000,,1.0000,2.0000,-3.0008,0,0").replace(b"*6F", b"*6f"),
         ["hit x=1 y=2 z=-3.0008 seq=13 us=13000000"]),
    ]),
    ("bytes", "Bytes that are no text: NUL (which no exclusive or notices), control characters, broken UTF-8.",
     [TOUCH], [
         unread(hit(1, 1000, "-1.5", b"")[0].replace(b"TUHIT", b"TUHIT\0"), "a line with a NUL byte"),
         unread(b"\0\0\0", "a line with a NUL byte"),
         (b"\0\xff" + HELLO, ['unread "\\x00\\xff" cut short by a sentence that starts in mid-line', HELLO_RECORD]),
         unread(b"touch 1 at X:1.0 Y:2.0 Z:\x0b3.0 ok:1", NOT_TEXT),
         unread(b"touch 1 at X:1.0 Y:2.0 Z:3.0 ok:1\xc3", NOT_TEXT),
         unread(b"touch 1 at X:1.0 Y:2.0 Z:\xc0\xb13.0 ok:1", NOT_TEXT),   # overlong form of "1"
         unread(b"\xed\xa0\x80", NOT_TEXT),                               # half a surrogate pair
         unread(b"\xf4\x90\x80\x80", NOT_TEXT),                           # beyond U+10FFFF
         unread(b"\xc2\x85", NOT_TEXT),                                   # a control character of C1
         unread(b"\x7f", NOT_TEXT),
         unread("größe 5 µm".encode(), "text that fits no template"),
         (b"touch 1 at X:1.0 Y:2.0 Z:3.0 ok:1\r\n", ["hit x=1 y=2 z=3 seq=1"]),
     ]),
    ("overlong", "Lines of 512 bytes and more.", [TOUCH], [
        unread(b"a" * 512, "text that fits no template"),
        (b"b" * 513 + b"\n", [f"unread {show(b'b' * 512)} a line of more than 512 bytes",
                              f'unread "b" {REST}']),
        (b"c" * 1024 + b"\n", [f"unread {show(b'c' * 512)} a line of more than 512 bytes",
                               f"unread {show(b'c' * 512)} {REST}"]),
        # its rest may not pass for a line of its own
        (b"d" * 512 + b"touch 1 at X:1.0 Y:2.0 Z:3.0 ok:1\n",
         [f"unread {show(b'd' * 512)} a line of more than 512 bytes",
          f'unread "touch 1 at X:1.0 Y:2.0 Z:3.0 ok:1" {REST}']),
        (b"e" * 600 + HELLO, [f"unread {show(b'e' * 512)} a line of more than 512 bytes",
                              f"unread {show(b'e' * 88)} cut short by a sentence that starts in mid-line",
                              HELLO_RECORD]),
        (b"touch 2 at X:1.0 Y:2.0 Z:3.0 ok:1\n", ["hit x=1 y=2 z=3 seq=2"]),
    ]),
    ("gaps", "Lines that are missing, the number over the end of 32 bits, the same line twice.", [], [
        hit(4294967290, 1000, "-1.5"),
        (hit(4294967293, 2000, "-2.5")[0], ["lost 2 before=4294967293", *hit(4294967293, 2000, "-2.5")[1]]),
        hit(4294967294, 3000, "-3.5"), hit(4294967295, 4000, "-4.5"), hit(0, 5000, "-5.5"), hit(1, 6000, "-6.5"),
        (hit(1, 6000, "-6.5")[0], [f'unread {show(hit(1, 6000, "-6.5", b"")[0])} the same line again']),
        hit(2, 7000, "-7.5"),
        (hit(1002, 8000, "-8.5")[0], ["lost 999 before=1002", *hit(1002, 8000, "-8.5")[1]]),
    ]),
    ("wrap_with_gap", "A gap across the end of 32 bits.", [], [
        hit(4294967294, 1000, "-1.5"),
        (hit(3, 2000, "-2.5")[0], ["lost 4 before=3", *hit(3, 2000, "-2.5")[1]]),
    ]),
    ("restarted", "Restarts: with a hello, in mid-line, without one (by the number, by the clock).", [], [
        (HELLO, [HELLO_RECORD]), hit(1, 5000000, "-1.5"), hit(2, 6000000, "-2.5"),
        (HELLO, ["restart", HELLO_RECORD]), hit(1, 2000000, "-3.5"), hit(2, 3000000, "-4.5"), hit(3, 4000000, "-4.5"),
        (b"$TUHIT,4,5000000,Z-,100.0" + HELLO,
         ['unread "$TUHIT,4,5000000,Z-,100.0" cut short by a sentence that starts in mid-line', "restart", HELLO_RECORD]),
        hit(1, 2500000, "-5.5"), hit(2, 3500000, "-6.5"),
        # the number is back at 1, the clock further on
        (hit(1, 9000000, "-7.5")[0], ["restart", *hit(1, 9000000, "-7.5")[1]]),
        # the number further on, the clock back
        (hit(3, 4000000, "-8.5")[0], ["restart", *hit(3, 4000000, "-8.5")[1]]),
        # the same number, another touch
        (hit(3, 4000001, "-9.5")[0], ["restart", *hit(3, 4000001, "-9.5")[1]]),
        # an introduction that goes on with the numbers is no restart
        (sentence("TUHLO,bench probe,1.0,4"), ['hello "bench probe 1.0" seq=4']),
        hit(5, 5000000, "-9.75"),
    ]),
    ("hellos", "A hello whose number alone would not tell a restart.", [], [
        (b'{"x":1,"y":2,"z":-3}\n', ["hit x=1 y=2 z=-3"]),
        (HELLO, ["restart", HELLO_RECORD]),
        (sentence("TUHLO,bench probe,1.0,"), ["restart", 'hello "bench probe 1.0"']),
        hit(4294967295, 1000, "-1.5"),
        (HELLO, ["restart", HELLO_RECORD]),
        (sentence("TUHLO,,,1"), ['hello "" seq=1']),
        (sentence("TUHLO,,2.0,2"), ['hello "2.0" seq=2']),
        (sentence("TUHLO,%s,%s,3" % ("n" * 50, "v" * 12)), ['hello "%s %s" seq=3' % ("n" * 50, "v" * 12)]),
        unread(sentence("TUHLO,%s,%s,4" % ("n" * 50, "v" * 13), b""),
               "the device's name and version are too long"),
    ]),
    ("boots", "Which start of the device it is: tells a restart where number and clock both run on.", [TRAVEL, STEPS], [
        (sentence("TUHLO,bench probe,1.1,0,255"), ['hello "bench probe 1.1" seq=0 boot=255']),
        (sentence("TUCNT,1,1000000,Z-,80,80,-400,0,0,255"),
         ["hit x=1 y=1 z=-1 axis=z dir=- seq=1 us=1000000 boot=255"]),
        # a gap of one, no restart: the start is the same
        (sentence("TUCNT,3,2000000,Z-,80,80,-800,0,0,255"),
         ["lost 1 before=3", "hit x=1 y=1 z=-2 axis=z dir=- seq=3 us=2000000 boot=255"]),
        # its hello and two touches did not come through; number and clock are further on
        (sentence("TUCNT,4,9000000,Z-,80,80,-800,0,0,0"),
         ["restart", *unread(sentence("TUCNT,4,9000000,Z-,80,80,-800,0,0,0", b""), STALE)[1]]),
        (sentence("TUHIT,5,9500000,Z-,1,1,-2,0,0,0"), ["hit x=1 y=1 z=-2 axis=z dir=- seq=5 us=9500000 boot=0"]),
        # one that does not say is taken as before, and forgets nothing
        (sentence("TUHIT,6,9600000,Z-,1,1,-2,0,0"), ["hit x=1 y=1 z=-2 axis=z dir=- seq=6 us=9600000"]),
        (sentence("TUHIT,7,9700000,Z-,1,1,-2,0,0,"), ["hit x=1 y=1 z=-2 axis=z dir=- seq=7 us=9700000"]),
        (sentence("TUHIT,8,9800000,Z-,1,1,-2,0,0,1"),
         ["restart", "hit x=1 y=1 z=-2 axis=z dir=- seq=8 us=9800000 boot=1"]),
        # the same number, clock and place, of another start: no repeat of the line
        (sentence("TUHIT,8,9800000,Z-,1,1,-2,0,0,2"),
         ["restart", "hit x=1 y=1 z=-2 axis=z dir=- seq=8 us=9800000 boot=2"]),
        # an introduction tells it as well, and so does a touch that can't be used
        (sentence("TUHLO,bench probe,1.1,9,3"), ["restart", 'hello "bench probe 1.1" seq=9 boot=3']),
        (sentence("TUHIT,10,9900000,Z-,1,1,,0,0,4"),
         ["restart", *unread(sentence("TUHIT,10,9900000,Z-,1,1,,0,0,4", b""), "a coordinate is missing")[1]]),
        (sentence("TUHIT,11,9950000,Z-,1,1,-2,0,0,4"), ["hit x=1 y=1 z=-2 axis=z dir=- seq=11 us=9950000 boot=4"]),
        unread(sentence("TUHIT,12,9960000,Z-,1,1,-2,0,0,1.5", b""), "the device's start is not a whole number of 32 bits"),
        unread(sentence("TUHLO,bench probe,1.1,13,4294967296", b""),
               "the device's start is not a whole number of 32 bits"),
        unread(sentence("TUHLO,bench probe,1.1,14,4,", b""), FIELDS),
    ]),
    ("same_number", "The same number again: the same line, or another touch after a restart.", [], [
        hit(1, 1000, "-1.5"),
        (hit(1, 2000, "-1.5")[0], ["restart", *hit(1, 2000, "-1.5")[1]]),
        (sentence("TUHIT,2,,,1,2,-3,,"), ["hit x=1 y=2 z=-3 seq=2"]),
        unread(sentence("TUHIT,2,,,1,2,-3,,", b""), "the same line again"),
        (sentence("TUHIT,2,,,1,2,-3.5,,"), ["restart", "hit x=1 y=2 z=-3.5 seq=2"]),
        # more than half of all numbers ahead is behind (RFC 1982)
        (sentence("TUHIT,3000000000,,,1,2,-3.5,,"), ["restart", "hit x=1 y=2 z=-3.5 seq=3000000000"]),
    ]),
    ("clock_back", "The clock of a sentence has 64 bits: back is back, also from below the end of 32.", [], [
        hit(1, 4294000000, "-1.5"),
        (hit(2, 32704, "-2.5")[0], ["restart", *hit(2, 32704, "-2.5")[1]]),
    ]),
    ("json", "A JSON object a line.", [TRAVEL], [
        (b'{"x":100.000,"y":80.000,"z":-40.120,"axis":"z","dir":"-","seq":41,"us":6000137}\r\n',
         ["hit x=100 y=80 z=-40.12 axis=z dir=- seq=41 us=6000137"]),
        (b' { "z" : -1e1 , "unit" : "in", "y":0.5,"x": 4 } \n',
         ["unread " + show(b' { "z" : -1e1 , "unit" : "in", "y":0.5,"x": 4 } ') + " " + OUTSIDE]),
        (b'{"z":-1e0,"unit":"in","y":0.5,"x":4}\n', ["hit x=101.6 y=12.7 z=-25.4"]),
        (b'{"x":1,"y":2,"z":-3,"series":"a \\"b\\" \\u0041","bounces":3,"bounce_us":400}\n',
         ['hit x=1 y=2 z=-3 bounces=3 bounce_us=400 series="a \\x22b\\x22 A"']),
        (b'{"x":1,"y":2,"z":-3,"seq":44}\n', ["lost 2 before=44", "hit x=1 y=2 z=-3 seq=44"]),
        *[unread(text, reason) for text, reason in [
            (b'{}', "a coordinate is missing"),
            (b'{"x":1,"y":2}', "a coordinate is missing"),
            (b'{"x":1,"y":2,"z":"-3"}', "a coordinate is not a number"),
            (b'{"x":1,"y":2,"z":1e999}', "a coordinate is not a number"),
            (b'{"x":1,"y":2,"z":NaN}', "a line that starts as JSON and is none"),
            (b'{"x":1,"y":2,"z":-Infinity}', "a line that starts as JSON and is none"),
            (b'{"x":1,"y":2,"z":null}', "a JSON value that is neither a number nor a text"),
            (b'{"x":1,"y":2,"z":[3]}', "a JSON value that is neither a number nor a text"),
            (b'{"x":1,"y":2,"z":{"a":3}}', "a JSON value that is neither a number nor a text"),
            (b'{"x":1,"y":2,"z":-3,"x":4}', "a JSON member that stands twice"),
            (b'{"x":1,"y":2,"z":-3,"state":"idle"}', "a JSON member that a touch does not have"),
            (b'{"x":1,"y":2,"z":-3,"axis":"Z"}', 'the axis is none of "x", "y", "z"'),
            (b'{"x":1,"y":2,"z":-3,"axis":1}', 'the axis is none of "x", "y", "z"'),
            (b'{"x":1,"y":2,"z":-3,"dir":"down"}', 'the direction is neither "+" nor "-"'),
            (b'{"x":1,"y":2,"z":-3,"unit":"m"}', 'the unit is neither "mm" nor "in"'),
            (b'{"x":1,"y":2,"z":-3,"seq":1.5}', "the number of the line is not a whole number"),
            (b'{"x":1,"y":2,"z":-3,"seq":9007199254740992}', "the number of the line is not a whole number"),
            (b'{"x":1,"y":2,"z":-3,"us":-1}', "the device's time is not a whole number"),
            (b'{"x":1,"y":2,"z":-3,"series":5}', "the series is not a text"),
            (b'{"x":1,"y":2,"z":-3,"bounces":"3"}', "the bounces are not whole numbers"),
            (b'{"x":01,"y":2,"z":-3}', "a line that starts as JSON and is none"),
            (b'{"x":+1,"y":2,"z":-3}', "a line that starts as JSON and is none"),
            (b'{"x":.5,"y":2,"z":-3}', "a line that starts as JSON and is none"),
            (b'{"x":1.,"y":2,"z":-3}', "a line that starts as JSON and is none"),
            (b'{"x":1.e5,"y":2,"z":-3}', "a line that starts as JSON and is none"),
            (b'{"x":1,"y":2,"z":-3,"series":"\\u0007"}', "a JSON text with an escape that is not taken here"),
            (b'{"x":1,"y":2,"z":-3,"series":"a\\n"}', "a JSON text with an escape that is not taken here"),
            (b'{"x":1,"y":2,"z":-3,"series":"\\ud800"}', "a JSON text with an escape that is not taken here"),
            (b'{"x":1,"y":2,"z":-3,"series":"\\u004', "a JSON text with an escape that is not taken here"),
            (b'{"x":1,"y":2,"z":-3,"series":"' + b"s" * 64 + b'"}', "a JSON text that is too long"),
            (b'{"seq":90,"state":"idle"}', "a JSON member that a touch does not have"),
            (b'{"x":1,"y":2,"z":-3,}', "a line that starts as JSON and is none"),
            (b'{"x":1,"y":2,"z":-3', "a line that starts as JSON and is none"),
            (b'{"x":1,"y":2,"z":-3}}', "a line that starts as JSON and is none"),
            (b'{"x":1;"y":2,"z":-3}', "a line that starts as JSON and is none"),
            (b'{x:1,"y":2,"z":-3}', "a line that starts as JSON and is none"),
            (b'{"x":3.937,"unit":"in","y":60,"z":-1}', OUTSIDE),
        ]],
        (b'{"x":1,"y":2,"z":-3,"seq":45}\n', ["hit x=1 y=2 z=-3 seq=45"]),
    ]),
    ("json_restarts", "The clock of JSON lines over the end of 32 bits, and back.", [], [
        (b'{"x":1,"y":2,"z":-3,"seq":1,"us":4294000000}\n', ["hit x=1 y=2 z=-3 seq=1 us=4294000000"]),
        (b'{"x":1,"y":2,"z":-3,"seq":2,"us":32704}\n', ["hit x=1 y=2 z=-3 seq=2 us=32704"]),
        (b'{"x":1,"y":2,"z":-3,"seq":3,"us":1032704}\n', ["hit x=1 y=2 z=-3 seq=3 us=1032704"]),
        (b'{"x":1,"y":2,"z":-3,"seq":4,"us":1000}\n', ["restart", "hit x=1 y=2 z=-3 seq=4 us=1000"]),
        (b'{"x":1,"y":2,"z":-3,"us":900}\n', ["restart", "hit x=1 y=2 z=-3 us=900"]),
    ]),
    ("template", "Text lines by two templates; the second says axis, direction, series and time.",
     [TRAVEL, TOUCH, "template={series}; {axis}{{{dir}}}; {t} s;{x},{y},{z};{_}"], [
         (b"touch 1 at X:100.000 Y:80.000 Z:-40.120 ok:1\r\n", ["hit x=100 y=80 z=-40.12 seq=1"]),
         (b"  touch  2   at X:  1.5 Y:   -0 Z:\t-40.120   ok:1  \r\n", ["hit x=1.5 y=-0 z=-40.12 seq=2"]),
         unread(b"touch 3 at X:100.000 Y:80.000 Z:-40.120 ok:0", "text that fits no template"),
         unread(b"touch 3 at X:100.000 Y:80.000 Z:-40.120 ok:12", "text that fits no template"),
         unread(b"touch 3 at X:100,000 Y:80,000 Z:-40,120 ok:1", "text that fits no template"),
         unread(b"touch 3 at X:nan Y:80.000 Z:-40.120 ok:1", "a template fits, but a coordinate is not a number"),
         unread(b"touch 3 at X:1e999 Y:80.000 Z:-40.120 ok:1",
                "a template fits, but a coordinate is not a number"),
         unread(b"touch -3 at X:1 Y:80.000 Z:-40.120 ok:1",
                "a template fits, but the line's number is not a whole number"),
         unread(b"touch 3 at X:1 Y:80.000 Z:40.120 ok:1", OUTSIDE),
         unread(b"Touch 4 at X:1 Y:80.000 Z:-40.120 ok:1", "text that fits no template"),
         (b"bed grid; Z{-}; 12.5 s;1,2,-3;whatever; 5\n",
          ['hit x=1 y=2 z=-3 axis=z dir=- us=12500000 series="bed grid"']),
         unread(b"bed grid; Q{-}; 12.5 s;1,2,-3;", "a template fits, but the axis is none of x, y, z"),
         unread(b"bed grid; Z{-}; soon s;1,2,-3;",
                "a template fits, but the device's time is not a number of seconds"),
         unread(b"s" * 64 + b"; Z{-}; 1 s;1,2,-3;",
                "a template fits, but the series is empty or longer than 63 bytes"),
         unread(b"bed grid; Z{0}; 12.5 s;1,2,-3;", "a template fits, but the direction is neither + nor -"),
         (b"touch 4 at X:100.000 Y:80.000 Z:-40.120 ok:1\r\n", ["hit x=100 y=80 z=-40.12 seq=4"]),
     ]),
    ("template_inches", "An inch controller: 1 in is 25.4 mm exactly. The axis comes from the logger.",
     [TRAVEL, "unit=in", "axis=z", "dir=-", "template=at {x} {y} {z}"], [
         (b"at 4.0 2.5 -0.5\n", ["hit x=101.6 y=63.5 z=-12.7 axis=z dir=-"]),
         unread(b"at 101.6 63.5 -12.7", OUTSIDE),
         unread(b"at 4.02.5 -0.5", "text that fits no template"),
     ]),
    ("no_template", "Text where no template is stated; positions where no travel is.", [], [
        unread(b"ready", "text, and there is no template for it"),
        (b'{"x":99999,"y":-99999,"z":0}\n', ["hit x=99999 y=-99999 z=0"]),
        unread(b'{"x":100001,"y":0,"z":0}', "a coordinate is farther away than any machine reaches"),
    ]),
    ("interleaved", "All forms in one stream, each with its own numbers, and chatter between.", [TRAVEL, TOUCH], [
        (HELLO, [HELLO_RECORD]),
        (b"touch 71 at X:1.0 Y:2.0 Z:-3.0 ok:1\n", ["hit x=1 y=2 z=-3 seq=71"]),
        hit(1, 1000000, "-40.1200"),
        (b'{"x":4,"y":5,"z":-6,"seq":900}\n', ["hit x=4 y=5 z=-6 seq=900"]),
        unread(b"ready", "text that fits no template"),
        hit(2, 2000000, "-40.1200"),
        (b"touch 73 at X:1.0 Y:2.0 Z:-3.0 ok:1\n", ["lost 1 before=73", "hit x=1 y=2 z=-3 seq=73"]),
        (b'{"x":4,"y":5,"z":-6,"seq":901}\n', ["hit x=4 y=5 z=-6 seq=901"]),
        hit(3, 3000000, "-40.1200"),
        (b"touch 74 at X:1.0 Y:2.0 Z:-3.0 ok:1" + hit(4, 4000000, "-40.1200")[0],
         ['unread "touch 74 at X:1.0 Y:2.0 Z:-3.0 ok:1" cut short by a sentence that starts in mid-line',
          *hit(4, 4000000, "-40.1200")[1]]),
    ]),
    ("cut", "The cable is pulled in the middle of a line that looks whole.", [TOUCH], [
        hit(1, 1000, "-1.5"),
        (b"touch 1 at X:1.0 Y:2.0 Z:-3.0 ok:1", ['unread "touch 1 at X:1.0 Y:2.0 Z:-3.0 ok:1" '
                                                'a line that was cut before its end']),
    ]),
    ("pulled", "The plug is pulled between two step counts and put back; nothing says that the device stayed on.",
     [STEPS, f"pulled={len(HELLO + sentence('TUCNT,1,1000000,Z-,80,80,-400,0,0'))}"], [
         (HELLO, [HELLO_RECORD]),
         (sentence("TUCNT,1,1000000,Z-,80,80,-400,0,0"), ["hit x=1 y=1 z=-1 axis=z dir=- seq=1 us=1000000"]),
         unread(sentence("TUCNT,2,2000000,Z-,80,80,-400,0,0", b""),
                "step counts after the plug was pulled, and no boot number says that they went on"),
         (sentence("TUHIT,3,3000000,Z-,1,2,-3,0,0"), ["hit x=1 y=2 z=-3 axis=z dir=- seq=3 us=3000000"]),
     ]),
    ("pulled_boots", "The same, and the sentences say that it did.",
     [STEPS, f"pulled={len(sentence('TUCNT,1,1000000,Z-,80,80,-400,0,0,7'))}"], [
         (sentence("TUCNT,1,1000000,Z-,80,80,-400,0,0,7"),
          ["hit x=1 y=1 z=-1 axis=z dir=- seq=1 us=1000000 boot=7"]),
         (sentence("TUCNT,2,2000000,Z-,80,80,-800,0,0,7"),
          ["hit x=1 y=1 z=-2 axis=z dir=- seq=2 us=2000000 boot=7"]),
     ]),
    ("wrong_rate", "What a device at another baud rate looks like: said once, and over when a line is read.", [], [
        *[unread(bytes([0x80 + i % 60, 0x9f, 0xfe, 0xe0] * 15), NOT_TEXT, b"\n") for i in range(4)],
        (bytes([0x9f] * 60) + b"\n", [f"unread {show(bytes([0x9f] * 60))} {NOT_TEXT}", "flood"]),
        *[unread(bytes([0xf8, 0x9f] * 100), NOT_TEXT, b"\n") for _ in range(3)],
        hit(1, 1000, "-1.5"),
        *[unread(bytes([0xf8, 0x9f] * 100), NOT_TEXT, b"\n") for _ in range(3)],
    ]),
    ("rate_changes", "Much text, a touch, and then noise: what counts is what came since the touch.", [], [
        *[unread(b"status idle, buffer 15, line %d" % i, "text, and there is no template for it") for i in range(99)],
        hit(1, 1000, "-1.5"),
        (bytes([0x9f] * 300) + b"\n", [f"unread {show(bytes([0x9f] * 300))} {NOT_TEXT}", "flood"]),
    ]),
    ("endless", "Bytes without a line end.", [], [
        (b"U" * 2000, [f"unread {show(b'U' * 512)} a line of more than 512 bytes", "flood",
                       f"unread {show(b'U' * 512)} a line of more than 512 bytes",
                       f"unread {show(b'U' * 512)} a line of more than 512 bytes",
                       f"unread {show(b'U' * 464)} a line that was cut before its end"]),
    ]),
    ("chatter", "A controller that talks a lot is no flood of garbage.", [TOUCH], [
        *[unread(b"status idle, buffer 15, line %d" % i, "text that fits no template") for i in range(40)],
    ]),
    ("silence", "Nothing at all.", [], []),
]


def stream_of(parts):
    return b"".join(data for data, _ in parts)


def expected_of(parts):
    """The records, and the line of totals, counted from them."""
    records = [record for _, records in parts for record in records]

    def count(kind):
        return sum(record.split()[0] == kind for record in records)
    lost = sum(int(record.split()[1]) for record in records if record.startswith("lost "))
    total = (f"end hits={count('hit')} unread={count('unread')} lost={lost} restarts={count('restart')} "
             f"bytes={len(stream_of(parts))}")
    return "".join(record + "\n" for record in [*records, total])


def header_of(name, about, options):
    """The text beside a stream that says where it is from and how it is read."""
    return (f"# {name}: {about}\n"
            "# Provenance: made by hand from docs/device-lines.md, written out by tests/decode/streams.py;\n"
            "# no device was recorded. Device, positions and times are invented.\n"
            + "".join(option + "\n" for option in options))
