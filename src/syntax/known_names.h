/* What names a text holds, for guesses at what was meant: names are resolved long after. */
#ifndef TURNLAY_SYNTAX_KNOWN_NAMES_H
#define TURNLAY_SYNTAX_KNOWN_NAMES_H

#include "syntax/reader.h"

enum { LONGEST_NAME = 80 };

/* Whether the word (its token) is declared as a thread, guide, pattern, value ... */
bool is_declared(Reader *reader, uint32_t word);
/* Whether a name is written so somewhere, or declared as several words that make it. */
bool is_known_name(Reader *reader, const char *name);
/* Whether the word stands with a colon somewhere. */
bool is_parameter_name(Reader *reader, uint32_t word);
/* Whether it is a list: `let shades = [`, or a parameter of kind threads. */
bool is_list_name(Reader *reader, uint32_t word);
/* Whether a file is used as that. */
bool is_module_name(Reader *reader, uint32_t word);
/* Whether it is a pattern of this file, or may be one of a used file. */
bool may_be_called(Reader *reader, uint32_t word);

#endif
