/* What the files share that put actions into words: the words at hand, and what is remembered from action to
 * action. */
#ifndef TURNLAY_WORDS_SHEET_MAKER_H
#define TURNLAY_WORDS_SHEET_MAKER_H

#include "words/sheet.h"
#include "plan/fade_kinds.h"

/* Of a piece: what has been told how. */
typedef struct PieceTold {
    bool stood, came_back, together;
} PieceTold;

/* Of a kind of fade: how it looks, and in which layer of a card that was said last, by their number from 1. */
typedef struct FadeTold {
    FadeLook look;
    uint32_t layer;
} FadeTold;

/* Of a crosswrap: what has been told how. */
typedef struct CrosswrapTold {
    bool legs[LEG_COUNT], tied_on, tied_off, coloured, unwound;
} CrosswrapTold;

typedef struct SheetMaker {
    Arena *arena;
    const Plan *plan;
    const Bench *bench;
    Buffer words;       /* what is being put together; used again for every text */
    const char **names; /* by Thread.index; NULL for a thread that is not used */
    uint32_t numbered;  /* actions of the rods before */
    uint32_t numbered_steps;
    FadeKinds kinds;
    LIST_OF(FadeTold) fades;       /* by kind */
    uint32_t card_layers;          /* layers of cards so far */
    bool aired[ACTION_KIND_COUNT]; /* the caution at the first of them asks for gloves and fresh air */

    /* Of the rod at hand. */
    const BenchRod *rod;
    const char **labels;                                /* by piece; NULL until first asked for */
    PieceTold *told;                                    /* by piece */
    uint32_t gap_told;                                  /* winding whose gap has been told; UINT32_MAX for none */
    uint32_t fade_pair, fade_pairs;                     /* of the fade at hand: begun, in all */
    FadeStep fade_now;                                  /* of the action at hand */
    bool line_told;                                     /* in this part: that the rod's line is at 12 */
    uint32_t next_noted;                                /* of what the builder wrote down */
    bool packed, measured;                              /* in this part: how it is done has been said */
    bool told_how[ACTION_KIND_COUNT][HELD_THING_COUNT]; /* at a step; tape by what it holds */
    const char *dressed;                                /* how the last foot was, at a step; NULL for none */
    CrosswrapTold crosswrap;                            /* in this part */
    const SheetAction *first_pass;                      /* its first leg, of the crosswrap at hand */
    bool marked;                                        /* how a mark is made has been told */
    uint32_t marked_place;                              /* the last one with its mark */
    const Place *taped;                                 /* whose guide was taped last; NULL for none */
    bool slid_on;                                       /* how parts go on over the tip has been told */
    bool from_tip;                                      /* some place is measured from the tip */
    bool stands_round;                                  /* some place stands elsewhere than on the rod's line */
} SheetMaker;

/* The words put together, as a text in the arena; begins anew. */
const char *maker_take(SheetMaker *maker);
/* As they are measured: how far a mark is from the mark of its place, in working direction, "12.5 mm from the
 * mark" or "at the mark"; without these words; a mark's place on the blank; with callipers; thread to cut. */
void maker_from_mark(SheetMaker *maker, double mm);
/* "4 mm from its mark". */
void maker_from(SheetMaker *maker, double mm, const char *mark);
void maker_rule(SheetMaker *maker, double mm);
void maker_place(SheetMaker *maker, double mm);
void maker_callipers(SheetMaker *maker, double mm);
void maker_cut(SheetMaker *maker, double mm);
/* "navy 2". */
const char *piece_label(SheetMaker *maker, uint32_t piece);
/* "navy 1", "navy 1 and mist 1", "navy 1, slate 1 and mist 1". */
void put_pieces(SheetMaker *maker, PieceGroup pieces);
const PlannedPlace *place_of_action(const SheetMaker *maker, const Action *action);
/* NULL for an action of a whole place or rod. */
const PlannedLayer *layer_of_action(const SheetMaker *maker, const Action *action);
/* "right" or "left": where the place is worked toward. */
const char *side_word(const SheetMaker *maker, int direction);

/* "320.00 mm from the butt", "1500 mm from the bare tip": of the whole rod, from the end that the place is
 * measured from. */
void put_along_rod(SheetMaker *maker, const PlannedPlace *place, double x);
/* "120.00 mm from the butt end of tip_piece", "at the butt end of tip_piece": of several sections the one at the
 * bench is measured by itself. */
void put_from_end(SheetMaker *maker, const PlannedPlace *place, double x);
/* angle_words.c: "on the rod's line", or "at 60 deg (2 o'clock): 4.97
 * mm clockwise round the blank from the rod's line"; the angles of all guides. */
void put_angle(SheetMaker *maker, const PlannedPlace *place);
void put_all_angles(SheetMaker *maker);

/* What changed in a layer since a width was measured; "" for nothing. */
const char *words_of_changes(SheetMaker *maker, const PlannedLayer *layer);
/* One action in words. The actions must come in order. */
void words_of_action(SheetMaker *maker, const Action *action, SheetAction *out);

/* The parts of that: what is done with threads, and what is done around the wrapping. They add to maker->words. */
typedef void PutWords(SheetMaker *maker, const Action *action);
PutWords say_start, explain_start, say_lay_in, explain_lay_in, say_loop, explain_loop;
PutWords say_take_up, explain_take_up;
PutWords say_load, explain_load;
PutWords say_cut_from_spool, explain_cut_from_spool;
PutWords say_wind, explain_wind, say_stand, explain_stand, say_lay_end, explain_lay_end, say_pull, explain_pull;
PutWords say_trim_tag, explain_trim_tag, say_trim_end, explain_trim_end, say_take_spacer, explain_take_spacer;
PutWords say_clean, explain_clean, say_mark_line, explain_mark_line, say_wipe, explain_wipe;
PutWords say_tape_down, explain_tape_down, say_untape, explain_untape;
PutWords say_part, explain_part;
PutWords say_dress, explain_dress, say_mark, explain_mark, say_tape, explain_tape, say_pack, explain_pack;
PutWords say_measure, explain_measure, say_take_tape, explain_take_tape, say_align, explain_align;
PutWords say_bind_ring, explain_bind_ring;
/* " Gloves and fresh air.", of SEAL and COAT, but for the first of them. */
PutWords put_air;
/* A layer's sealing, and the colour preserver before it: what is sealed, and how long it cures; which threads need
 * the preserver, and why, nothing where none does. */
void say_sealing(SheetMaker *maker, const Action *action, const char *what, const char *cured);
void explain_preserving(SheetMaker *maker, const Action *action);
PutWords say_seal, explain_seal, say_singe, explain_singe, say_coat, explain_coat;
PutWords say_set_out, explain_set_out, say_hold_ends, explain_hold_ends, say_tie_on, explain_tie_on;
PutWords say_leg, explain_leg, say_tie_off, explain_tie_off, say_symmetry, explain_symmetry;
PutWords say_unwind, explain_unwind, say_take_ends, explain_take_ends;
/* The same kinds of action in a layer that is a crosswrap; what a START there adds, nothing of other actions. */
PutWords say_pack_strands, explain_pack_strands, say_seal_crosswrap, explain_seal_crosswrap, put_end_band;
/* Facts of a LEG: "pass 7 of 16; 9 crossings; 5.12 turns"; where a LEG, TIE_ON, TIE_OFF is round the blank: "from
 * 43 deg (1:26) to 220 deg (7:20), the rod's line at 12". */
const char *words_of_pass(SheetMaker *maker, const Action *action);
const char *words_round(SheetMaker *maker, const Action *action);
/* ", the rod's line at 12": once in a part, where no ring is at 12. */
void put_rods_line(SheetMaker *maker);
/* Of a loop where the end comes out that it draws back; behind what words hold. */
void put_end_of_loop(SheetMaker *maker, const Action *action);
/* What a fade is made of at its first turns; how far it has come later is left in fade_now: for a WIND. */
void put_fade(SheetMaker *maker, const Action *action);
/* "Fade step 2 of 5.", "Fade steps 2 and 3 of 5.": how far these bring it, "" for no fade. */
const char *words_of_fade(SheetMaker *maker, const SheetAction *actions, uint32_t count);

/* The rod's actions, put into words, gathered into parts by place and layer; its cuts. */
void sheet_parts(SheetMaker *maker, SheetRod *rod);
void sheet_cuts(SheetMaker *maker, SheetRod *rod);
/* "cut piece", "spool, as a spacer", with the thread's code. */
const char *cut_what(SheetMaker *maker, const Cut *cut);
/* Its cards, once its parts are there. */
void sheet_cards(SheetMaker *maker, SheetRod *rod);
/* Actions told together as steps: once they are in words. */
void sheet_steps(SheetMaker *maker, SheetRod *rod);
/* What the step's actions do, in one sentence. */
const char *words_of_step(SheetMaker *maker, const SheetRod *rod, const Step *step);
/* Parts and cuts, section by section. */
void sheet_sections(SheetMaker *maker, SheetRod *rod);
/* "The blank"; of a rod of several sections the name of the one at the bench. */
const char *bare_blank(const SheetMaker *maker, const Action *action);
/* The rod's sections, where it has several; else NULL. */
const Section *several_sections(const SheetMaker *maker);
/* "320 mm from the butt, toward the tip, overwrap: ". */
void put_layer(SheetMaker *maker, const PlannedRod *rod, uint32_t place, uint32_t layer);
/* What happened, for the whole sheet: once its rods are there. */
void sheet_mishaps(SheetMaker *maker, Sheet *sheet);
void sheet_widths(SheetMaker *maker, Sheet *sheet);
/* Its parts and the notes on it, section by section: once these are there. */
void sheet_notes(SheetMaker *maker, SheetRod *rod);

#endif
