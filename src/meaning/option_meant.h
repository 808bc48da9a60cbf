/* Inside the meaning room: which option, or which of an option's words, a builder meant by another one. */
#ifndef TURNLAY_MEANING_OPTION_MEANT_H
#define TURNLAY_MEANING_OPTION_MEANT_H

#include "meaning/option.h"

/* The option that goes by another word among builders ("color", "dia"); `unit` is what the value then lacks, ""
 * for nothing. NULL if the word is none. */
typedef struct OptionMeant {
    const char *option, *unit;
    double factor; /* by which its number is to be taken */
} OptionMeant;
OptionMeant option_by_other_word(NodeKind owner, const char *word);
/* The option of the same owner that takes a value of this kind, where `option` does not; NULL if there is none. */
const char *option_for_type(NodeKind owner, const char *option, unsigned type);
/* Whose option the word is, if not the owner's: "a fade"; NULL if nobody's. */
const char *owner_of_option(const char *word);
/* The choice that goes by another word ("handle" for "butt"); NULL if none does. */
const char *choice_by_other_word(const char *const *choices, const char *word);

#endif
