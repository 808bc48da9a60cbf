/* Which rod of a file --rod means. */
#ifndef TURNLAY_CLI_ROD_H
#define TURNLAY_CLI_ROD_H

#include "cli/compile.h"

#define NO_ROD UINT32_MAX

/* Its number, counted from 0; the first where none is asked for. NO_ROD after having said that there is none such,
 * with the title that is near. */
uint32_t rod_asked_for(const Arguments *arguments, const Compiled *compiled);

#endif
