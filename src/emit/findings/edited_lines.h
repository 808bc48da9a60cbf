/* What becomes of the lines that an edit touches. */
#ifndef TURNLAY_EMIT_FINDINGS_EDITED_LINES_H
#define TURNLAY_EMIT_FINDINGS_EDITED_LINES_H

#include "base/finding.h"
#include "emit/findings/excerpt.h"

enum { MOST_EDITED_LINES = 4 };

typedef struct EditedLines {
    Excerpt lines[MOST_EDITED_LINES]; /* the first ones; the place is what is new in them */
    unsigned count;                   /* 0: these lines go, and nothing comes for them */
    bool more;                        /* than are here */
} EditedLines;

EditedLines edited_lines_of(Arena *arena, const Source *source, const Edit *edit);

#endif
