/* In which format a page is written: as --format or --findings says, else by the ending of the output's name. */
#ifndef TURNLAY_CLI_FORMATS_H
#define TURNLAY_CLI_FORMATS_H

#include "cli/arguments.h"

/* "text, json or csv": the words of --format that the verb takes, the usual one first. */
typedef struct FormatChoices {
    char words[80];
} FormatChoices;
FormatChoices format_choices(VerbKind verb);

/* Sets arguments->format. false after having said what is wrong: a format that this verb does not write, an ending
 * that belongs to another, or two that do not go together. */
bool format_settle(Arguments *arguments);

#endif
