/* What the rules share: the laid layers of a plan cut into wraps, faults gathered by place, and edits of the
 * source. Only the check room includes this. */
#ifndef TURNLAY_CHECK_RULES_H
#define TURNLAY_CHECK_RULES_H

#include "plan/evenness.h"
#include "plan/wraps.h"

typedef struct WrapView {
    Wrap wrap;
    uint32_t first_piece, end_piece; /* in LayerView.pieces: those laid in here */
} WrapView;

typedef struct LayerView {
    const PlannedRod *rod;
    const PlannedPlace *place;
    const PlannedLayer *layer;
    WrapView *wraps;
    uint32_t wrap_count;
    const Piece **pieces; /* by their first turn; last those of a crosswrap's strands */
    uint32_t piece_count;
} LayerView;

typedef struct Check {
    Arena *arena;   /* of the whole check */
    Arena *scratch; /* of one layer, for whoever looks at it */
    const Plan *plan;
    const Bench *bench;
    Findings *findings;
    LayerView *layers; /* those that are laid */
    uint32_t layer_count;
} Check;

/* Finds the laid layers, their wraps and pieces. */
void find_layers(Check *check);

/* One statement may be laid many times, in loops and on several feet. The same fault at the same place is reported
 * once, with the numbers of its worst copy. */
typedef struct Case {
    Span span;
    double badness;  /* the larger the worse */
    uint32_t view;   /* in Check.layers */
    uint32_t detail; /* whatever the rule wants back */
    unsigned times;  /* copies; set by cases_keep_worst */
} Case;

typedef struct Cases {
    LIST_OF(Case) list;
} Cases;

void cases_add(Arena *arena, Cases *cases, Span span, double badness, uint32_t view, uint32_t detail);
/* One case a span is left, in source order. */
void cases_keep_worst(Cases *cases);

/* The source's bytes at a span, in the arena. */
const char *source_text(const Check *check, Span span);
/* Whether the span holds a plain quantity: "12 turns", "3 1/4 in". */
bool is_plain_quantity(const Check *check, Span span);
/* Whether something in the span has a finding of error level: that is mended first. */
bool has_error(const Check *check, Span span);
/* Sets an option of `bench { }`: changes its value, or adds it to the braces, or adds a whole line. */
void edit_bench(const Check *check, Finding *finding, BenchOption option, const char *value);
/* Sets an option of the thread or guide declared at `name`, where `written` is the span of the whole option, or
 * of the name if the option is not written. False if the braces cannot be found. */
bool edit_option(const Check *check, Finding *finding, Span name, Span written, const char *option,
                 const char *value);
/* How a length is written that stands, or could stand, at the span: in the unit that is there, or the bench's. */
LengthWriting writing_of(const Check *check, Span span);
/* Source text of what callipers measure, not below (above) mm, in place of what stands at the span: to 0.01 mm or
 * 0.001 in. */
const char *source_length_above(const Check *check, Span span, double mm);
const char *source_length_below(const Check *check, Span span, double mm);
/* The same of a thread's length: to 0.01 m or 0.01 yd. */
const char *source_thread_above(const Check *check, Span span, double mm);

/* The way out of a fade that shows a line: "put a shade near #805a1f between peat and amber"; or, cheaply, what
 * names them. */
const char *shades_to_put(const Check *check, const FadeAt *at, bool by_name);

/* The rules: each looks at the whole plan and adds its findings. */
void check_held(const Check *check);
void check_ridges(const Check *check);
void check_pieces(const Check *check);
void check_fades_by_eye(const Check *check);
void check_ramps(const Check *check);
void check_slopes_of_parts(const Check *check);
void check_thicknesses(const Check *check);
void check_preserver(const Check *check);
void check_measured(const Check *check);
void check_drift(const Check *check);
void check_stock(const Check *check);
void check_fades(const Check *check);
void check_crosswraps(const Check *check);
void check_stacks(const Check *check);
void check_room_to_turn(const Check *check);

#endif
