/* What the pages for people share: 80 columns, headings, cells of a table, words that flow. */
#ifndef TURNLAY_EMIT_TEXT_PAGE_H
#define TURNLAY_EMIT_TEXT_PAGE_H

#include "plan/plan.h"

enum { PAGE_COLUMNS = 80 };

typedef struct TextPage {
    Buffer *out;
    Buffer cell; /* what is being put together for a cell or a word */
    const Plan *plan;
    UnitSystem units;
    int column; /* where flowing words have come to */
} TextPage;

TextPage text_page_start(Buffer *out, const Plan *plan);
/* A line of words and one of `rule` under it, as wide as the words. */
void text_heading(TextPage *page, const char *words, char rule);
/* What the page is, title, author, hash, edition. */
void text_head(TextPage *page, const char *what);
/* "name      " at the start of a line of the head. */
void text_field(TextPage *page, const char *name);
/* The cell to the page, padded as by buffer_column. */
void text_cell(TextPage *page, int columns);
/* The same, `indent` columns in; where it is wider, on a line of its own, and the row goes on below. */
void text_wide_cell(TextPage *page, int columns, int indent);
/* A width, or a place on the blank, with its unit into the cell. */
void text_length(TextPage *page, double mm);
void text_place(TextPage *page, double mm);
/* The cell as the next words of a paragraph: on this line, or on a new one so many blanks in. */
void text_flow(TextPage *page, int indent);
/* The same with words that are parted by blanks. */
void text_flow_words(TextPage *page, const char *words, int indent);
/* Ends the paragraph's line. */
void text_flow_end(TextPage *page);
/* Words that are parted by blanks, and the end of their paragraph; nothing for none. */
void text_paragraph(TextPage *page, const char *words, int indent);
/* A cell of a table, padded, and what parts it from the next. */
void text_padded(TextPage *page, const char *words, int columns);
/* The columns of words where they are more, but not more than `most`. */
int text_widest(int so_far, const char *words, int most);

#endif
