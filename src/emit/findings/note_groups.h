/* Notes in short, for whoever does not ask for all of them: one line for each rod, and one for what is about no
 * rod. */
#ifndef TURNLAY_EMIT_FINDINGS_NOTE_GROUPS_H
#define TURNLAY_EMIT_FINDINGS_NOTE_GROUPS_H

#include "base/buffer.h"
#include "base/finding.h"
#include "base/line_map.h"

/* In the order of their first notes. A note that is alone is told in its line; of several the line has their count
 * and what they are. */
void put_note_groups(Buffer *out, const Findings *findings, LineMap *lines);

#endif
