/* Colour as the trade's pictures and checks need it: pure functions, tested against published values and liblcms2.
 * One matrix and one white throughout: sRGB's primaries and D65 white (x 0.3127, y 0.3290) of IEC 61966-2-1, the
 * matrix worked out from them exactly, its white the sum of its rows; so a grey has a* = b* = 0. */
#ifndef TURNLAY_TRADE_COLOUR_H
#define TURNLAY_TRADE_COLOUR_H

#include <stdbool.h>
#include <stdint.h>

/* In place of 0xRRGGBB: no colour at all. */
#define NO_COLOUR UINT32_MAX

/* Light of sRGB's three primaries, each 0 to 1 where it can be shown. Mixtures are reckoned in these. */
typedef struct Light {
    double red, green, blue;
} Light;
/* CIE XYZ, white at y = 1. */
typedef struct Xyz {
    double x, y, z;
} Xyz;
/* CIELAB of CIE 15 (ISO 11664-4), lightness 0 to 100. */
typedef struct Lab {
    double lightness, a, b;
} Lab;

/* One channel's code value 0 to 1 to light and back: IEC 61966-2-1. */
double srgb_decode(double code);
double srgb_encode(double light);
bool same_light(Light one, Light other);
/* Of 0xRRGGBB. */
Light light_of(uint32_t colour);
/* The nearest 0xRRGGBB; light out of range is cut off. */
uint32_t colour_of(Light light);

/* What shows of a ground through something that hides a part of it, its opacity, 0 to 1: opacity top + (1 -
 * opacity) ground. "Over" of T. Porter and T. Duff, "Compositing Digital Images", Computer Graphics 18(3), 253-259
 * (1984; from memory), in light, for an opaque ground. That a thread looks so on what it lies on is a model of
 * ours. */
Light light_over(Light top, double opacity, Light ground);

Xyz xyz_of(Light light);
/* white: that of the light looked at; colour_white() for colours of this program. */
Lab lab_of(Xyz colour, Xyz white);
Xyz colour_white(void);
/* Of a light of this program: lab_of its xyz_of, seen by colour_white(). */
Lab lab_of_light(Light light);
/* CIELAB's own distance, CIE 1976. */
double lab_distance(Lab first, Lab second);

/* CIEDE2000 difference (CIE 142-2001), all weights 1, as written out by G. Sharma, W. Wu and E. N. Dalal, "The
 * CIEDE2000 Color-Difference Formula: Implementation Notes, Supplementary Test Data, and Mathematical
 * Observations", Color Research & Application 30(1), 21-30 (2005): secondary, the paper itself was not read. About
 * 1 is the least that an eye sees side by side (from memory). */
double ciede2000(Lab first, Lab second);

/* An eye with all kinds of cone, or without those for long, middle or short waves. */
typedef enum { VISION_ALL_CONES, VISION_PROTANOPIA, VISION_DEUTERANOPIA, VISION_TRITANOPIA, VISION_COUNT } Vision;
/* The light that shows an eye with all cones what that one sees. Of all lights that only the missing cone would
 * tell apart it is the one on a plane through the greys, or on one of two half planes that meet in them: greys
 * stay, what has been seen so is not changed again, and lights that differ to the missing cone alone become one.
 * Protanopia and deuteranopia: F. Vienot, H. Brettel and J. D. Mollon, "Digital video colourmaps for checking the
 * legibility of displays by dichromats", Color Research & Application 24(4), 243-252 (1999): the plane through
 * blue and yellow of the screen; without their way of keeping within the screen's range, which would change greys.
 * Tritanopia: H. Brettel, F. Vienot and J. D. Mollon, "Computerized simulation of color appearance for
 * dichromats", Journal of the Optical Society of America A 14(10), 2647-2655 (1997): half planes through 485 and
 * 660 nm; theirs meet in the white of equal energy, ours in the screen's, as in 1999. Secondary but for the first
 * page of 1997. It may lie a little beyond what can be shown, which colour_of cuts off. Light is mixed before it
 * is seen. */
Light light_seen(Vision vision, Light light);
/* CIEDE2000 difference of two colours 0xRRGGBB to such an eye. */
double difference_seen(Vision vision, uint32_t first, uint32_t second);

#endif
