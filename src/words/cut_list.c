/* The cut list of a rod, in words. */
#include "words/sheet_maker.h"

#include <math.h>

/* So little over a whole measure is rounding of the reckoning, not thread. */
#define CUT_SLACK 1e-6
#define MM_PER_INCH 25.4
enum { CM_PER_M = 100, QUARTERS = 4, INCHES_PER_YARD = 36, MOST_INCHES = 72, MM_PER_CM = 10 };

/* "53 1/4 in", "4 yd 3 1/2 in": up to the next quarter. */
static void put_cut_inches(SheetMaker *maker, double mm)
{
    static const char *const fractions[QUARTERS] = {"", "1/4", "1/2", "3/4"};
    unsigned long long quarters = (unsigned long long)ceil(mm / MM_PER_INCH * QUARTERS - CUT_SLACK);
    unsigned long long inches = quarters / QUARTERS;
    const char *fraction = fractions[quarters % QUARTERS];
    if (inches >= MOST_INCHES) {
        buffer_format(&maker->words, "%llu yd ", inches / INCHES_PER_YARD);
        inches %= INCHES_PER_YARD;
    }
    if (inches || !*fraction)
        buffer_format(&maker->words, *fraction ? "%llu " : "%llu", inches);
    buffer_format(&maker->words, "%s in", fraction);
}

/* "85 cm", "1.35 m": up to the next centimetre. */
static void put_cut_metres(SheetMaker *maker, double mm)
{
    double centimetres = ceil(mm / MM_PER_CM - CUT_SLACK);
    bool metres = centimetres >= CM_PER_M;
    buffer_number(&maker->words, metres ? centimetres / CM_PER_M : centimetres, metres ? 2 : 0);
    buffer_text(&maker->words, metres ? " m" : " cm");
}

void put_cut_length(SheetMaker *maker, double mm)
{
    if (maker->bench->units == SYSTEM_IN)
        put_cut_inches(maker, mm);
    else
        put_cut_metres(maker, mm);
}

static const char *cut_what(const SheetMaker *maker, const Cut *cut)
{
    static const char *const words[] = {
#define X(name, words) words,
        CUT_TABLE(X)
#undef X
    };
    bool spacer = cut->piece != NO_PIECE && maker->rod->rod->pieces[cut->piece].spacer;
    return spacer ? "spool, as a spacer" : words[cut->kind];
}

static SheetCut words_of_cut(SheetMaker *maker, const Cut *cut)
{
    SheetCut made = {.what = cut_what(maker, cut), .first_step = maker->numbered + cut->step + 1};
    made.label = cut->kind == CUT_LOOP ? text_format(maker->arena, "loop %u", (unsigned)cut->number)
                                       : piece_label(maker, cut->piece);
    put_cut_length(maker, cut->length);
    made.length = maker_take(maker);
    return made;
}

/* Pieces come in the order of their steps, and so do loops: the two are merged. */
void sheet_cuts(SheetMaker *maker, SheetRod *rod)
{
    const BenchRod *bench = maker->rod;
    uint32_t loops = 0;
    while (loops < bench->cut_count && bench->cuts[loops].kind != CUT_LOOP)
        loops++;
    rod->cuts = arena_take_many(maker->arena, bench->cut_count, sizeof *rod->cuts);
    uint32_t piece = 0, loop = loops;
    while (rod->cut_count < bench->cut_count) {
        bool take_loop =
            piece == loops || (loop < bench->cut_count && bench->cuts[loop].step < bench->cuts[piece].step);
        rod->cuts[rod->cut_count++] = words_of_cut(maker, &bench->cuts[take_loop ? loop++ : piece++]);
    }
}
