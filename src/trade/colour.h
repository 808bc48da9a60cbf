/* Colour as the trade's pictures and checks need it: pure functions, tested against published values and liblcms2.
 * One matrix and one white throughout: sRGB's primaries and D65 white (x 0.3127, y 0.3290) of IEC 61966-2-1, the
 * matrix worked out from them exactly, its white the sum of its rows; so a grey has a* = b* = 0. */
#ifndef TURNLAY_TRADE_COLOUR_H
#define TURNLAY_TRADE_COLOUR_H

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

/* CIEDE2000 difference (CIE 142-2001), all weights 1, as written out by G. Sharma, W. Wu and E. N. Dalal, "The
 * CIEDE2000 Color-Difference Formula: Implementation Notes, Supplementary Test Data, and Mathematical
 * Observations", Color Research & Application 30(1), 21-30 (2005): secondary, the paper itself was not read. About
 * 1 is the least that an eye sees side by side (from memory). */
double ciede2000(Lab first, Lab second);

/* How an eye without one kind of cone sees: matrices of G. M. Machado, M. M. Oliveira and L. A. F. Fernandes, "A
 * Physiologically-based Model for Simulation of Color Vision Deficiency", IEEE Transactions on Visualization and
 * Computer Graphics 15(6), 1291-1298 (2009), severity 1.0, over light, cut off to what can be shown. The numbers
 * are from secondary copies that agree. */
#define VISION_TABLE(X)                                                                                           \
    X(ALL_CONES, {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}})                                                               \
    X(PROTANOPIA,                                                                                                 \
      {{0.152286, 1.052583, -0.204868}, {0.114503, 0.786281, 0.099216}, {-0.003882, -0.048116, 1.051998}})        \
    X(DEUTERANOPIA,                                                                                               \
      {{0.367322, 0.860646, -0.227968}, {0.280085, 0.672501, 0.047413}, {-0.011820, 0.042940, 0.968881}})         \
    X(TRITANOPIA,                                                                                                 \
      {{1.255528, -0.076749, -0.178779}, {-0.078411, 0.930809, 0.147602}, {0.004733, 0.691367, 0.303900}})

typedef enum {
#define X(name, ...) VISION_##name,
    VISION_TABLE(X)
#undef X
        VISION_COUNT
} Vision;
Light light_seen(Vision vision, Light light);
/* CIEDE2000 difference of two colours 0xRRGGBB to such an eye. */
double difference_seen(Vision vision, uint32_t first, uint32_t second);

#endif
