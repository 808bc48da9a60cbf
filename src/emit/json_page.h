/* JSON written as it goes, member by member, so that a plan of two million runs costs no more than its text.
 * Texts are quoted by jansson, numbers follow the program's own rule. What is written flat stands on one line. */
#ifndef TURNLAY_EMIT_JSON_PAGE_H
#define TURNLAY_EMIT_JSON_PAGE_H

#include "base/line_map.h"
#include "plan/plan.h"

typedef struct JsonPage {
    Buffer *out;
    unsigned depth; /* objects and arrays that are open */
    unsigned flat;  /* how many of them stand on one line */
    bool empty;     /* nothing yet in the innermost */
} JsonPage;

void page_start(JsonPage *page, Buffer *out);
/* The name of every member is given; NULL in an array. bracket: '{' or '['. */
void page_open(JsonPage *page, const char *name, char bracket);
void page_open_flat(JsonPage *page, const char *name, char bracket);
void page_close(JsonPage *page, char bracket);
/* Any bytes, all characters kept, those that are not to be seen as escapes; NULL gives null. */
void page_text(JsonPage *page, const char *name, const char *text);
/* To 6 decimals; null where there is no number. */
void page_number(JsonPage *page, const char *name, double value);
void page_whole(JsonPage *page, const char *name, uint64_t value);
void page_truth(JsonPage *page, const char *name, bool value);
void page_end(JsonPage *page);

/* {"file", "line", "column"} of where the span starts. */
void page_place(JsonPage *page, const char *name, LineMap *lines, Span span);
/* "format", "version", "file_id", "about" and "units" of a plan's page. */
void page_head(JsonPage *page, const char *format, const Job *job);
/* "findings", "errors", "warnings", "notes" and "left_out". */
void page_findings(JsonPage *page, const Findings *findings, FindingsShown shown, LineMap *lines);

#endif
