/* Inside the bench sheet as data: what its files share. */
#ifndef TURNLAY_EMIT_SHEET_SHEET_JSON_H
#define TURNLAY_EMIT_SHEET_SHEET_JSON_H

#include "emit/json_page.h"
#include "bench/night.h"
#include "plan/turns_so_far.h"
#include "words/sheet.h"

typedef struct SheetData {
    JsonPage page;
    const Sheet *sheet;
    const SheetRod *rod;     /* that is being written */
    TurnsSoFar so_far;       /* of the layer: up to where it was measured last, or its beginning */
    ThreadWidths widths;     /* empty, but while these turns are written */
    const StepNight *nights; /* of its steps */
    Arena *aside;            /* empty, but while one step's words are written */
} SheetData;

/* sheet_json_plan.c: what is to be wound on the rod (its places with their runs, its windings) and of what (its
 * pieces). */
void put_rod_plan(SheetData *data);
/* sheet_json_cards.c: each place in a few lines. */
void put_cards(SheetData *data);
/* sheet_json_actions.c: a step with its words, and its actions with theirs and what is held after each. row: that
 * stands for it on other pages, or NULL. */
void put_step(SheetData *data, const SheetStep *step, const ToldRow *row);
/* sheet_json_happened.c: the member `happened` of a sheet and of a record. */
void put_happened(JsonPage *page, const Job *job);
/* Of a sheet alone, where there are any: `left_out`, which of `happened` the plan does not heed. */
void put_left_out(JsonPage *page, const Plan *plan);
/* sheet_json_mishaps.c: the member `mishaps`, where there are any. */
void put_mishaps(JsonPage *page, const Sheet *sheet);
/* A member for a text, left out where it is empty. */
void put_words(JsonPage *page, const char *name, const char *words);
/* The member `pieces`: their numbers, one by one. */
void put_piece_list(JsonPage *page, PieceGroup pieces);

#endif
