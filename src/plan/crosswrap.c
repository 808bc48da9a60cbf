/* The geometry of a planned crosswrap: where strands lie. Every helix keeps its lead; strands beside the
 * bundle's line are moved along the blank by what they lie across, divided by the cosine of the angle at the
 * place. */
#include "plan/crosswrap.h"

#include "base/halfway.h"
#include "trade/gauss.h"
#include "trade/trade.h"

#include <math.h>

/* Radii that differ more between two ends are integrated in parts: eight points then give all digits. */
static const double PART = 0.25; /* of the logarithm of their ratio */

uint32_t pass_strand(const PlannedCrosswrap *planned, uint32_t pass) { return pass / planned->starts; }

uint32_t pass_start(const PlannedCrosswrap *planned, uint32_t pass) { return pass % planned->starts; }

bool is_spiral(const PlannedCrosswrap *planned) { return planned->crosswrap->kind == CROSSWRAP_SPIRAL; }

uint32_t leg_count(const PlannedCrosswrap *planned) { return is_spiral(planned) ? 1 : LEG_COUNT; }

const char *crosswrap_word(const PlannedCrosswrap *planned)
{
    static const char *const words[] = {
#define X(name, word) word,
        CROSSWRAP_TABLE(X)
#undef X
    };
    return words[planned->crosswrap->kind];
}

/* With the butt to the left and the top of the blank coming toward the builder the blank turns clockwise, so the
 * thread goes round it the other way. */
int thread_sense(const Bench *bench) { return bench->butt_left == bench->toward_you ? -1 : 1; }

/* The stretch that x lies on; beyond either end the outermost one. */
static const SurfaceStretch *stretch_at(const PlannedCrosswrap *planned, double x)
{
    uint32_t low = 0, high = planned->stretch_count; /* those before low end at or before x */
    while (low < high) {
        uint32_t middle = halfway(low, high);
        if (planned->stretches[middle].to <= x)
            low = middle + 1;
        else
            high = middle;
    }
    return &planned->stretches[low < planned->stretch_count ? low : planned->stretch_count - 1];
}

static double slope_of(const SurfaceStretch *stretch)
{
    return (stretch->diameter_to - stretch->diameter_from) / (stretch->to - stretch->from);
}

static double diameter_on(const SurfaceStretch *stretch, double x)
{
    return stretch->diameter_from + slope_of(stretch) * (x - stretch->from);
}

double crosswrap_diameter(const PlannedCrosswrap *planned, double x)
{
    return diameter_on(stretch_at(planned, x), x);
}

/* Tangent of a leg's angle to the way round. */
static double steepness(const PlannedCrosswrap *planned, Leg leg, double diameter)
{
    return planned->lead[leg] / (TRADE_PI * (diameter + planned->thread_diameter));
}

double crosswrap_angle(const PlannedCrosswrap *planned, Leg leg, double x)
{
    return atan(steepness(planned, leg, crosswrap_diameter(planned, x)));
}

double crosswrap_angle_from_axis(const PlannedCrosswrap *planned, Leg leg, double x)
{
    double slope = slope_of(stretch_at(planned, x)) / 2;
    return atan2(1, steepness(planned, leg, crosswrap_diameter(planned, x)) * hypot(1, slope));
}

/* Along the blank for one across the strands: 1 / cos b. */
static double stretching(const PlannedCrosswrap *planned, Leg leg, double diameter)
{
    return hypot(1, steepness(planned, leg, diameter));
}

/* Turns a mm along the blank, signed. */
static double rate(const PlannedCrosswrap *planned, Leg leg)
{
    double out = planned->sense * planned->direction / planned->lead[leg];
    return leg == LEG_OUT ? out : -out;
}

/* Starts follow one another the way the thread goes round. */
double crosswrap_base(const PlannedCrosswrap *planned, uint32_t start)
{
    return planned->base + planned->sense * ((double)start / planned->starts);
}

double crosswrap_turn(const PlannedCrosswrap *planned, uint32_t start, Leg leg, double across, double x)
{
    double along = x - planned->field_start - across * stretching(planned, leg, crosswrap_diameter(planned, x));
    return crosswrap_base(planned, start) + rate(planned, leg) * along;
}

double crosswrap_turns_from_start(const PlannedCrosswrap *planned, Leg leg, double x)
{
    return rate(planned, leg) * (x - planned->field_start);
}

double crosswrap_position(const PlannedCrosswrap *planned, uint32_t start, Leg leg, double across, double turn)
{
    double line = planned->field_start + (turn - crosswrap_base(planned, start)) / rate(planned, leg);
    double x = line, moved = INFINITY;
    /* The shift hardly changes with x: each round leaves less than a hundredth of the error on any blank. */
    for (int i = 0; i < 8 && moved > 1e-13; i++) {
        double next = line + across * stretching(planned, leg, crosswrap_diameter(planned, x));
        moved = fabs(next - x);
        x = next;
    }
    return x;
}

/* One leg of one strand on one stretch. */
typedef struct LegStretch {
    const PlannedCrosswrap *planned;
    const SurfaceStretch *stretch;
    Leg leg;
    double across, thread;
} LegStretch;

/* Length of thread a mm along the blank: ds^2 = dx^2 + dr^2 + (r dphi)^2. */
static double length_rate(double x, const void *given)
{
    const LegStretch *on = given;
    double slope = slope_of(on->stretch), diameter = diameter_on(on->stretch, x);
    double steep = steepness(on->planned, on->leg, diameter);
    double turning = -steep * steep * slope / ((diameter + on->planned->thread_diameter) * hypot(1, steep));
    double round_way =
        TRADE_PI * (diameter + on->thread) * (1 - on->across * turning) / on->planned->lead[on->leg];
    return sqrt(1 + slope * slope / 4 + round_way * round_way);
}

static double stretch_length(const LegStretch *on, double from, double to)
{
    double spread = fabs(log(diameter_on(on->stretch, to) / diameter_on(on->stretch, from)));
    unsigned parts = 1 + (unsigned)(spread / PART);
    double sum = 0, step = (to - from) / parts;
    for (unsigned i = 0; i < parts; i++)
        sum += gauss_mean(length_rate, on, from + i * step, from + (i + 1) * step) * step;
    return sum;
}

/* Thread of a pass's leg between two places, from < to. */
static double leg_length(const PlannedCrosswrap *planned, uint32_t pass, Leg leg, double from, double to)
{
    const BundleStrand *strand = &planned->strands[pass_strand(planned, pass)];
    double sum = 0;
    for (uint32_t i = 0; i < planned->stretch_count; i++) {
        const SurfaceStretch *stretch = &planned->stretches[i];
        LegStretch on = {planned, stretch, leg, strand->middle, strand->thread->diameter};
        double low = fmax(from, stretch->from), high = fmin(to, stretch->to);
        if (high > low)
            sum += stretch_length(&on, low, high);
    }
    return sum;
}

double crosswrap_leg_length(const PlannedCrosswrap *planned, uint32_t pass, Leg leg)
{
    return leg_length(planned, pass, leg, planned->low, planned->high);
}

double crosswrap_round_length(const PlannedCrosswrap *planned, uint32_t pass, bool at_end, double dwell)
{
    double x = at_end == toward_tip(planned->direction) ? planned->high : planned->low;
    const Thread *thread = planned->strands[pass_strand(planned, pass)].thread;
    return dwell / 360 * TRADE_PI * (crosswrap_diameter(planned, x) + thread->diameter) + 2 * planned->beyond;
}

double crosswrap_wound(const PlannedCrosswrap *planned, uint32_t pass, Leg leg, double x)
{
    const Pass *one = &planned->passes[pass];
    bool from_low = toward_tip(planned->direction) == (leg == LEG_OUT);
    double length = from_low ? leg_length(planned, pass, leg, planned->low, x)
                             : leg_length(planned, pass, leg, x, planned->high);
    if (leg == LEG_OUT)
        return one->wound_before + length;
    return one->wound_before + one->length[LEG_OUT] + crosswrap_round_length(planned, pass, true, one->dwell)
           + length;
}

/* --- lines and marks --- */

uint32_t crosswrap_families(const PlannedCrosswrap *planned)
{
    return leg_count(planned) == 1 ? 0 : planned->ratio[LEG_OUT] + planned->ratio[LEG_BACK];
}

uint32_t crosswrap_line_count(const PlannedCrosswrap *planned)
{
    return planned->starts * crosswrap_families(planned);
}

double crosswrap_line_turn(const PlannedCrosswrap *planned, uint32_t line)
{
    uint32_t family = line / planned->starts + 1, start = line % planned->starts;
    double levels = (double)family * planned->ratio[LEG_BACK] / (crosswrap_families(planned) * planned->starts);
    double turn = crosswrap_base(planned, start) + planned->sense * levels;
    return clock_degrees(turn) / 360;
}

/* The family of the levels that the field's own ends belong to has one crossing fewer inside. */
uint32_t crosswrap_mark_count(const PlannedCrosswrap *planned, uint32_t line)
{
    uint32_t family = line / planned->starts + 1;
    return planned->crossings - (family == crosswrap_families(planned));
}

double crosswrap_mark(const PlannedCrosswrap *planned, uint32_t line, uint32_t mark)
{
    uint32_t families = crosswrap_families(planned), family = line / planned->starts + 1;
    double level = (double)family + (double)mark * families;
    return planned->field_start + planned->direction * level * planned->spacing / families;
}
