/* Rulers at 1:1. */
#include "base/whole.h"
#include "draw/graduations.h"
#include "emit/pdf/pdf_marking_strip.h"

#include <math.h>

#define TICK_PEN 0.1
#define PROOF_MM 100
#define PROOF_INCHES 3
#define PROOF_WORDS "Before use measure these rulers, 100 mm and 3 in long; print at 100 %, no fitting to page."
#define NUMBERS_BELOW 2.5

/* Numbers of the ticks that fall into the window. */
typedef struct Ticks {
    double first, last;
} Ticks;

static Ticks ticks_in(double x, int direction, double length, double step, RulerWindow window)
{
    double near = toward_tip(direction) ? window.low - x : x - window.high, far = near + window.high - window.low;
    return (Ticks){fmax(0, whole_above(near / step)), whole_below(fmin(length, far) / step)};
}

void paper_ruler(Paper *paper, UnitSystem system, double x, double y, int direction, double length,
                 RulerWindow window)
{
    static const Style number = {.points = 6.5, .colour = INK, .align = ALIGN_MIDDLE};
    const RulerScale *scale = ruler_scale(system);
    double step = scale->ticks[0].step;
    double end = x + direction * length;
    paper_trace(paper, fmax(fmin(x, end), window.low), y, fmin(fmax(x, end), window.high), y);
    Ticks fine = ticks_in(x, direction, length, step, window);
    for (double i = fine.first; i <= fine.last; i++) {
        double at = i * step;
        double across = x + direction * at;
        paper_trace(paper, across, y, across, y + tick_length(scale, 0, at));
    }
    paper_stroke(paper, INK, TICK_PEN);
    Ticks numbered = ticks_in(x, direction, length, scale->whole, window);
    for (double i = numbered.first; i <= numbered.last; i++) {
        double at = i * scale->whole;
        paper_text(paper, &number, x + direction * at, y + NUMBERS_BELOW, 0,
                   show_number(paper->arena, at / scale->unit, 0));
    }
}

/* Beside one another, so that they take little of a page. */
void paper_proof_rulers(Paper *paper)
{
    static const Style words = {.points = 9, .bold = true, .colour = MARK_INK};
    static const struct {
        UnitSystem system;
        double at, length;
    } rulers[] = {{SYSTEM_MM, 0, PROOF_MM}, {SYSTEM_IN, PROOF_MM + 8, PROOF_INCHES * 25.4}};
    paper->y += paper_text(paper, &words, paper->left, paper->y, paper_width(paper), PROOF_WORDS) + 0.8;
    for (size_t i = 0; i < sizeof rulers / sizeof *rulers; i++) {
        double x = paper->left + rulers[i].at;
        RulerWindow all = {x, x + rulers[i].length};
        paper_ruler(paper, rulers[i].system, x, paper->y, 1, rulers[i].length, all);
    }
    paper->y += RULER_HEIGHT + 2;
}

void paper_break_to_rulers(Paper *paper)
{
    paper_break(paper);
    paper_proof_rulers(paper);
}
