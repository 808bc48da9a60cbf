/* The trade's geometry and mechanics: pure functions, lengths in mm, angles in radians. They know no
 * language, allocate nothing, and are tested against published values alone. */
#ifndef TURNLAY_TRADE_TRADE_H
#define TURNLAY_TRADE_TRADE_H

#include <stdint.h>

#define TRADE_PI 3.14159265358979323846

/* Length of a helix on a cylinder: radius to the thread's centre line, axial lead of a turn, any
 * number of turns >= 0. L = n sqrt((2 pi r)^2 + p^2) (textbook). */
double helix_length(double radius, double lead, double turns);

/* Length of a helix of constant axial lead on a cone, from radius r0 to r1 (to the thread's centre
 * line) over `axial` mm of the axis. Closed form by integrating ds^2 = (r^2 + (kc)^2 + c^2) dtheta^2
 * with r = r0 + k z, c = lead / 2 pi; where the radii nearly agree the closed form cancels and the
 * mean of sqrt(r^2 + A^2) is taken by Gauss and Legendre's rule instead. axial >= 0, lead > 0. */
double cone_helix_length(double r0, double r1, double axial, double lead);

/* Perimeter of the convex hull of a circle (diameter) and a foot's section: a rectangle `width` wide,
 * centred, whose top lies `height` above the top of the circle. All >= 0. Both cases: foot
 * narrower than the circle, and wider (its underside tangent to the circle). */
double hull_perimeter(double diameter, double width, double height);

/* What a turn over a foot's ramp needs to be integrated. Sizes vary linearly from a to b over the
 * axial stretch: the circle under the foot, the foot's section, and the thickness between hull and
 * thread's centre line (layers over the foot plus half the thread). */
typedef struct HullStretch {
    double axial; /* mm of the axis, >= 0 */
    double diameter_a, diameter_b;
    double width_a, width_b, height_a, height_b;
    double above_a, above_b;
} HullStretch;

/* Length of a thread wound with `lead` over the stretch: integral of sqrt(P(x)^2 + lead^2) / lead dx
 * with P the hull's perimeter plus 2 pi above (Steiner's formula for parallel bodies). Gauss and Legendre's
 * rule, composite; relative error below 1e-9. */
double hull_helix_length(const HullStretch *stretch, double lead);

/* Slippage tendency of close turns on a surface rising with `slope` = dr/dz: |geodesic curvature / normal
 * curvature| = tan(half angle) = |slope|. Holds while not above the friction coefficient (Dalibor and others,
 * 2019, named in full below). Worked out for this project from the curvatures: tests/published/README.md,
 * slip.csv. */
double close_turn_slippage(double slope);
/* The same for constant axial lead on a cone, radius r, slope k: tan(b)(1 + cos^2 a)/sin a with tan a = 2 pi r
 * cos b / lead, a from the meridian. */
double helix_slippage(double radius, double slope, double lead);

/* Degrees to radians. */
double radians(double degrees_given);
double degrees(double radians_given);
/* Angle of a helix to the way round, radians: tan b = lead / 2 pi r. */
/* Where so many turns round the blank lie, degrees: 0 <= degrees < 360. */
double clock_degrees(double turns);
/* The way so many degrees round a cylinder of that diameter. */
double arc_length(double diameter, double degrees_round);
double helix_angle(double radius, double lead);
/* How far along the axis a thread on a cylinder goes on while friction alone turns it round, from the angle a to
 * the axis: (r / mu)(1 / sin a - 1); and by how much it goes round, radians, until it lies straight round: (1 /
 * mu) ln(sin a / (1 - cos a)). I. H. Dalibor, T. V. Lisboa, R. J. Marczak, S. C. Amico, "A geometric approach for
 * filament winding pattern generation and study of the influence of the slippage coefficient", J. Braz. Soc. Mech.
 * Sci. Eng. 41:576 (2019), eqs. 17 and 24; there doubled, since both legs have one angle. It leaves the other way
 * as if it had come from there: the whole dwell is the sum for the angle that arrives and the one that leaves. */
double turning_way(double radius, double angle_from_axis, double friction);
double turning_dwell(double arriving, double leaving, double friction);

/* Capstan (Euler, Eytelwein): ratio of tensions that n turns hold, exp(2 pi mu n). W. E. Morton and J. W. S.
 * Hearle, Physical Properties of Textile Fibres, 4th ed. (Woodhead, 2008), section 25.1.1, eq. (25.2): published.
 */
double capstan_ratio(double friction, double turns);

/* Yarn's diameter in mm from tex (g/km, as ISO 1144:2016 defines it), fibre density g/cm3, fullness 0..1: that of
 * a circle which the fibre fills by that part. d = sqrt(4 T / (pi rho c)) in one system of units; arithmetic. */
double yarn_diameter(double tex, double density, double fullness);

/* Volume in mm3 of a coat of finish: annulus pi (D + t) t W. */
double coat_volume(double diameter, double thickness, double width);

/* Widths. Turns in a width: width / pitch, halves away from zero. */
double turns_in_width(double width, double pitch);
/* Turns counted over a width, mm; and what several such counts give: mm a turn and its standard uncertainty. Each
 * width is off by `error` mm, a standard uncertainty, independently: least squares of width = turns * pitch, whose
 * variance is error^2 / sum of turns^2 (JCGM 100:2008, Evaluation of measurement data - Guide to the expression of
 * uncertainty in measurement, 5.1.2). Where the counts scatter more than that, the uncertainty grows as they do
 * (the ratio of R. T. Birge, Phys. Rev. 40 (1932) 207; both from memory). */
typedef struct Count {
    double turns, width;
} Count;
typedef struct CountedPitch {
    double pitch, uncertainty;
} CountedPitch;
CountedPitch counted_pitch(const Count *counts, uint32_t count, double error);
/* Standard uncertainty, mm, of what a tool shows to whole steps: within half a step either way, all as likely, is
 * step / sqrt 12; a length between two ends, each read so, step / sqrt 6 (JCGM 100:2008, F.2.2.1 and 5.1.2). */
double uncertainty_of_reading(double step);
double uncertainty_of_length(double step);
/* Turns that the new thread has made after turn i of an even crossover of `total` turns: floor(i^2 /
 * (2 total) + 1/2), exact in whole numbers for total up to 10^9. */
uint64_t even_crossover_turns(uint64_t turn, uint64_t total);

/* Where a place of `count` (2 or more) lies, counted from 0, if each gap is `ratio` (> 0) times the one before it:
 * sums of a geometric series, s(i) = g (r^i - 1) / (r - 1), with s(count - 1) = last - first; arithmetic. */
double spaced_place(double first, double last, double ratio, uint32_t count, uint32_t place);

/* Whole spools to buy so that each piece can be cut in one length from a spool: of `spool` mm, or from what is at
 * hand, which is whole spools and one that is begun as far as `stock` goes. Every length at most `spool` (> 0);
 * stock
 * >= 0. The fewest there are for up to 8 pieces; else those that first-fit decreasing and a search of bounded
 * length find: at most 11/9 of the fewest and 6/9 more (G. Dosa, "The Tight Bound of First Fit Decreasing
 * Bin-Packing Algorithm Is FFD(I) <= 11/9 OPT(I) + 6/9", ESCAPE 2007, the abstract was read). Sorts the lengths;
 * scratch: room for 10 count + 10 numbers. */
uint32_t spools_to_buy(double *lengths, uint32_t count, double spool, double stock, double *scratch);

/* A sum that keeps its small terms: A. Neumaier, "Rundungsfehleranalyse einiger Verfahren zur Summation endlicher
 * Summen", Z. Angew. Math. Mech. 54, 39-51 (1974) (from memory). Start with {0}. */
typedef struct Sum {
    double total, rest;
} Sum;
void sum_add(Sum *sum, double term);
double sum_value(const Sum *sum);

#endif
