/* Whether a mend would do, by reading the statement with it. */
#ifndef TURNLAY_SYNTAX_TRIAL_H
#define TURNLAY_SYNTAX_TRIAL_H

#include "syntax/recovery.h"

/* Whether the statement that holds the token `at` can be read with `text` in the place of the span: its words up
 * to its block, in their order; not what they mean. */
bool reads_so(Reader *reader, uint32_t at, Span span, const char *text);

#endif
