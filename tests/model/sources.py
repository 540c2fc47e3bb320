"""Pattern sources for the tests of the model."""

from __future__ import annotations

FRONT = """---
title: Trial piece
summary: For the tests.
version: 1.0.0
date: 2026-11-25
edition: free
units: mm
level: easy
time: 10 min
licence: personal
---

"""

DRAWER = """```piece drawer, in card
panel    base, (width of stack + room) x (height of stack + room)
panel    front wall, on bottom of base, depth deep, mountain by 90 degrees
panel    back wall, on top of base, depth deep, mountain by 90 degrees
panel    left wall, on left of base, depth deep, mountain by 90 degrees
panel    right wall, on right of base, depth deep, mountain by 90 degrees
tab      on left and right of front wall, tab deep, 2 mm taper, mountain by 90 degrees,
         meets bottom of left wall and bottom of right wall
tab      on left and right of back wall, tab deep, 2 mm taper, mountain by 90 degrees,
         meets top of left wall and top of right wall
```
"""

SIZES = """```sizes
stack   = 120 x 80 x 20 mm                 "the packets it must hold"
room    = 4 mm                             "free beside the stack, each way"
depth   = 22 mm, from 12 mm to 40 mm       "inside of the drawer"
tab     = 12 mm
play    = 1 mm, from 0.5 mm to 2 mm        "between drawer and sleeve, in all"
thumb   = 24 mm
border  = 4 mm
```
"""

SLEEVE = """```piece sleeve, in card
band     down, around drawer when closed, width of drawer when closed wide, tab overlap, play ease
notch    half round, thumb wide, at middle of left and right of panel 1 and panel 3
```
"""

MAT = """```piece sleeve mat, in patterned paper
mat      on panel 1 of sleeve, border
```
"""

FITS = """```fits
stack goes into drawer with 2 mm to 6 mm to spare
sleeve slides on drawer when closed with 0.5 mm to 2 mm to spare
```
"""

STEPS = """## Make it

### Fold the drawer

Turn it over. Fold the four walls up, then the tabs, each {tab} deep.

```step
score    drawer
turn     over drawer
fold     each wall of drawer
fold     each tab of drawer
```

### Glue the corners

```step
glue     each tab of drawer
```

### Mat and close the sleeve

The mat leaves {border} of card all round, also round the notches.

```step
glue     sleeve mat to panel 1 of sleeve
wrap     sleeve around drawer
glue     overlap of sleeve
```

### Slide it together

```step
slide    drawer into sleeve
```
"""

SLIDING_BOX = (
    FRONT
    + "Slide the drawer out by the thumb notch and the packets stand in a row.\n\n"
    + "\n".join([SIZES, DRAWER, SLEEVE, MAT, FITS, STEPS])
)

ENVELOPE_SIZES = """```sizes
greeting = 148 x 105 x 1 mm
side     = 18 mm
strip    = 10 mm
```
"""

ENVELOPE_PIECE = """```piece envelope, in paper
panel    centre, (width of greeting + 6 mm) x (height of greeting + 6 mm)
panel    left side, on left of centre, side deep, mountain
panel    right side, on right of centre, side deep, mountain
panel    bottom flap, on bottom of centre, 67 mm deep, mountain
panel    top flap, on top of centre, 55 mm deep, mountain
glue     along left and right of bottom flap, strip wide, on back face,
         meets left side and right side, called strip
```
"""

ENVELOPE_STEPS = """## Make it

### Score and fold the sides in

```step
score    envelope
turn     over envelope
fold     left side and right side of envelope
```

### Glue the bottom up

```step
glue     each strip of envelope
fold     bottom flap of envelope
```

### Close the flap

```step
fold     top flap of envelope
```
"""

ENVELOPE = FRONT + "\n".join(
    [
        ENVELOPE_SIZES,
        ENVELOPE_PIECE,
        "```fits\ngreeting goes into envelope with 4 mm to 8 mm to spare\n```\n",
        ENVELOPE_STEPS,
    ]
)
