/* JSON read as it comes, value by value (RFC 8259, published): whoever reads says what should come next, and the
 * first thing that is otherwise is a finding, T701 where it is no JSON and T702 where it is another value. From
 * then on every call answers false. Nothing is kept of what was read, so that a deep or long text costs nothing.
 */
#ifndef TURNLAY_RECORD_JSON_H
#define TURNLAY_RECORD_JSON_H

#include "base/finding.h"
#include "base/source.h"

typedef struct Json {
    const char *bytes; /* followed by a NUL */
    uint32_t length, at, file;
    Arena *arena; /* of texts */
    Findings *findings;
    bool fresh; /* an object or array was just opened */
    bool broken;
} Json;

Json json_start(Arena *arena, const Sources *sources, uint32_t file, Findings *findings);

/* `name`: whose value it is, for people: "width". */
/* The bracket that opens an object, '{', or an array, '['. */
bool json_open(Json *json, char bracket, const char *name);
/* Whether one more member or element comes; its closing bracket is read if none does. */
bool json_more(Json *json, char closing);
/* A member's name, as it is written between its quotes, and its colon. */
bool json_key(Json *json, const char **key, Span *span);
/* Of at most so many characters, without a NUL. */
bool json_text(Json *json, const char *name, uint32_t most, const char **text);
/* Within these bounds, both among them. */
bool json_number(Json *json, const char *name, double least, double most, double *number);
bool json_whole(Json *json, const char *name, uint32_t least, uint32_t most, uint32_t *number);
bool json_truth(Json *json, const char *name, bool *truth);
/* Nothing but blanks is left. */
bool json_end(Json *json);

/* Where the next value begins: past blanks. */
Span json_here(Json *json);
/* T702 at the span; gives false. The mend is the same for all: the record is to be got once more. */
bool json_refuse(Json *json, Span span, const char *format, ...) __attribute__((format(printf, 3, 4)));

#endif
