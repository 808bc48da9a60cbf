/* Comma-separated values as in RFC 4180: lines end in CR LF, fields are quoted where they must be. */
#ifndef TURNLAY_EMIT_CSV_PAGE_H
#define TURNLAY_EMIT_CSV_PAGE_H

#include "plan/plan.h"

typedef struct CsvPage {
    Buffer *out;
    bool started; /* a field stands in this line */
} CsvPage;

/* Any bytes; shown by the rule of base/visible.h, tabs and line ends kept. What a spreadsheet would run as a
 * formula gets an apostrophe before it; the reference says how to take it off. */
void csv_text(CsvPage *page, const char *text);
void csv_whole(CsvPage *page, uint64_t value);
/* To 6 decimals; empty where there is no number. */
void csv_number(CsvPage *page, double value);
void csv_end_line(CsvPage *page);
/* A line of names. */
void csv_names(CsvPage *page, const char *const *names, size_t count);

#endif
