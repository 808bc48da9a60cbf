/* What pictures and printed pages are drawn with, apart from the colours of threads. Texts have a contrast of at
 * least 4.5 to 1 with the paper, as WCAG 2.2 asks (success criterion 1.4.3); a test works it out. */
#ifndef TURNLAY_DRAW_INKS_H
#define TURNLAY_DRAW_INKS_H

/* 0xRRGGBB. */
enum {
    PAPER = 0xffffff,
    INK = 0x17242a,
    GREY_INK = 0x5a6467,
    PALE_INK = 0xa8b2b4,   /* for lines alone */
    MARK_INK = 0xaa3020,   /* the mark of a place, and what must not be missed */
    PLAIN_PART = 0x8c8072, /* of a part without a colour of its own */
    STEEL = 0xb8bfc1,
    STEEL_EDGE = 0x78848a
};

#endif
