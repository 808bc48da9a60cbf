#include "trade/colour.h"

#include "trade/trade.h"

#include <math.h>

/* The two branches do not quite meet; the limits are those of the standard. */
double srgb_decode(double code) { return code <= 0.04045 ? code / 12.92 : pow((code + 0.055) / 1.055, 2.4); }

double srgb_encode(double light)
{
    return light <= 0.0031308 ? 12.92 * light : 1.055 * pow(light, 1 / 2.4) - 0.055;
}

bool same_light(Light one, Light other)
{
    return one.red == other.red && one.green == other.green && one.blue == other.blue;
}

Light light_of(uint32_t colour)
{
    return (Light){srgb_decode((colour >> 16 & 0xff) / 255.0), srgb_decode((colour >> 8 & 0xff) / 255.0),
                   srgb_decode((colour & 0xff) / 255.0)};
}

static double within_one(double value) { return fmin(fmax(value, 0), 1); }

static uint32_t code_of(double light)
{
    return (uint32_t)lround(255 * within_one(srgb_encode(within_one(light))));
}

uint32_t colour_of(Light light)
{
    return code_of(light.red) << 16 | code_of(light.green) << 8 | code_of(light.blue);
}

Light light_over(Light top, double opacity, Light ground)
{
    double rest = 1 - opacity;
    return (Light){opacity * top.red + rest * ground.red, opacity * top.green + rest * ground.green,
                   opacity * top.blue + rest * ground.blue};
}

typedef struct Triple {
    double values[3];
} Triple;

static Triple transform(const double matrix[3][3], Light light)
{
    Triple out;
    for (int i = 0; i < 3; i++)
        out.values[i] = matrix[i][0] * light.red + matrix[i][1] * light.green + matrix[i][2] * light.blue;
    return out;
}

Xyz xyz_of(Light light)
{
    static const double matrix[3][3] = {{0.41239079926595948, 0.35758433938387796, 0.18048078840183429},
                                        {0.21263900587151036, 0.71516867876775593, 0.072192315360733715},
                                        {0.019330818715591851, 0.11919477979462599, 0.95053215224966058}};
    Triple xyz = transform(matrix, light);
    return (Xyz){xyz.values[0], xyz.values[1], xyz.values[2]};
}

Xyz colour_white(void) { return xyz_of((Light){1, 1, 1}); }

/* CIE 15: a cube root, and below (6/29)^3 the straight line that touches it. */
static double lab_share(double ratio)
{
    return ratio > 216.0 / 24389 ? cbrt(ratio) : ratio * 841 / 108 + 4.0 / 29;
}

Lab lab_of(Xyz colour, Xyz white)
{
    double x = lab_share(colour.x / white.x), y = lab_share(colour.y / white.y), z = lab_share(colour.z / white.z);
    return (Lab){116 * y - 16, 500 * (x - y), 200 * (y - z)};
}

Lab lab_of_light(Light light) { return lab_of(xyz_of(light), colour_white()); }

double lab_distance(Lab first, Lab second)
{
    return hypot(hypot(first.lightness - second.lightness, first.a - second.a), first.b - second.b);
}

/* 0 to 360 degrees; 0 for a grey (C17 F.10.1.4: atan2 of 0 and 0). */
static double hue_of(double a, double b)
{
    double hue = atan2(b, a) * (180 / TRADE_PI);
    return hue < 0 ? hue + 360 : hue;
}

/* Hues opposite each other, to within rounding, count as no more than half a circle apart, as in the paper's test.
 */
#define HALF_CIRCLE (180 + 1e-9)

typedef struct Hues {
    double difference, mean;
} Hues;

static Hues compare_hues(double first, double second)
{
    double difference = second - first, sum = first + second;
    if (fabs(difference) <= HALF_CIRCLE)
        return (Hues){difference, sum / 2};
    return (Hues){difference > 0 ? difference - 360 : difference + 360, (sum < 360 ? sum + 360 : sum - 360) / 2};
}

static double seventh_power_share(double chroma)
{
    double power = pow(chroma, 7);
    return sqrt(power / (power + 6103515625.0)); /* 25^7 */
}

/* The rotation for blues, times the weights' denominators. */
static double rotation(double mean_hue, double mean_chroma)
{
    double around = (mean_hue - 275) / 25;
    return -sin(radians(60 * exp(-around * around))) * 2 * seventh_power_share(mean_chroma);
}

static double hue_weight(double mean)
{
    return 1 - 0.17 * cos(radians(mean - 30)) + 0.24 * cos(radians(2 * mean)) + 0.32 * cos(radians(3 * mean + 6))
           - 0.20 * cos(radians(4 * mean - 63));
}

double ciede2000(Lab first, Lab second)
{
    double mean = (hypot(first.a, first.b) + hypot(second.a, second.b)) / 2;
    double stretch = 1 + (1 - seventh_power_share(mean)) / 2;
    double a1 = first.a * stretch, a2 = second.a * stretch;
    double chroma1 = hypot(a1, first.b), chroma2 = hypot(a2, second.b), chroma = (chroma1 + chroma2) / 2;
    double hue1 = hue_of(a1, first.b), hue2 = hue_of(a2, second.b);
    Hues hues = chroma1 * chroma2 == 0 ? (Hues){0, hue1 + hue2} : compare_hues(hue1, hue2);

    double from_middle = (first.lightness + second.lightness) / 2 - 50;
    from_middle *= from_middle;
    double lightness_part =
        (second.lightness - first.lightness) / (1 + 0.015 * from_middle / sqrt(20 + from_middle));
    double chroma_part = (chroma2 - chroma1) / (1 + 0.045 * chroma);
    double hue_part = 2 * sqrt(chroma1 * chroma2) * sin(radians(hues.difference / 2))
                      / (1 + 0.015 * chroma * hue_weight(hues.mean));
    return sqrt(lightness_part * lightness_part + chroma_part * chroma_part + hue_part * hue_part
                + rotation(hues.mean, chroma) * chroma_part * hue_part);
}

/* What the cones for long, middle and short waves (rows) make of light (columns): V. C. Smith and J. Pokorny,
 * "Spectral sensitivity of the foveal cone photopigments between 400 and 500 nm", Vision Research 15, 161-171
 * (1975), for the primaries and the white of IEC 61966-2-1, as the paper of 1999 in colour.h prints them
 * (secondary). */
static const double cones[3][3] = {
    {17.8824, 43.5161, 4.11935},
    {3.45565, 27.1554, 3.86714},
    {0.0299566, 0.184309, 1.46709},
};

/* The missing cone, a row of `cones`, and the lights through which the half planes go; those of 1999 are one
 * plane. 485 and 660 nm in light of the primaries, less than none of some, come through the same cones from J. J.
 * Vos, "Colorimetric and photometric properties of a 2 deg fundamental observer", Color Research & Application
 * 3(3), 125-128 (1978; secondary). */
static const struct {
    int missing;
    Light anchors[2];
} dichromats[] = {
    [VISION_PROTANOPIA] = {0, {{0, 0, 1}, {1, 1, 0}}},
    [VISION_DEUTERANOPIA] = {1, {{0, 0, 1}, {1, 1, 0}}},
    [VISION_TRITANOPIA] = {2, {{-0.6123952, 0.4629320, 1}, {1, -0.1024999, -0.0075121}}},
};

/* Light (where some is taken away) that one cone alone sees. */
static Light seen_alone(int cone)
{
    const double *a = cones[(cone + 1) % 3], *b = cones[(cone + 2) % 3];
    return (Light){a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]};
}

/* How far two lights are turned from each other round the greys: 0 where both lie in one plane with these, below 0
 * the other way round. Exactly 0 for a grey. */
static double turn_between(Light from, Light to)
{
    return (from.red - from.blue) * (to.green - to.blue) - (from.green - from.blue) * (to.red - to.blue);
}

Light light_seen(Vision vision, Light light)
{
    if (vision == VISION_ALL_CONES)
        return light;
    Light alone = seen_alone(dichromats[vision].missing), anchor = dichromats[vision].anchors[0];
    if (turn_between(alone, anchor) * turn_between(alone, light) < 0)
        anchor = dichromats[vision].anchors[1];
    double share = turn_between(anchor, light) / turn_between(anchor, alone);
    return (Light){light.red - share * alone.red, light.green - share * alone.green,
                   light.blue - share * alone.blue};
}

double difference_seen(Vision vision, uint32_t first, uint32_t second)
{
    return ciede2000(lab_of_light(light_seen(vision, light_of(first))),
                     lab_of_light(light_seen(vision, light_of(second))));
}
