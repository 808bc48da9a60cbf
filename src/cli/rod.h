/* Which rod of a file --rod means, and which section --section. */
#ifndef TURNLAY_CLI_ROD_H
#define TURNLAY_CLI_ROD_H

#include "cli/compile.h"

#define NO_ROD UINT32_MAX

/* Its number, counted from 0; where none is asked for the first, of those that have the section that is asked for
 * if there are any. NO_ROD after having said that there is none such, with the title that is near. */
uint32_t rod_asked_for(const Arguments *arguments, const Compiled *compiled);

/* From now on the pages of the compilation show the section that is asked for, of this rod or of any (NO_ROD).
 * False after having said that there is none such, with the name that is near. */
bool section_asked_for(const Arguments *arguments, const Compiled *compiled, uint32_t rod);

#endif
