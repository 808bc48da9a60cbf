/* What the fuzz targets share. Each target is one function that libFuzzer calls with any bytes at all, or replay.c
 * with the files it is given. */
#ifndef TURNLAY_TESTS_FUZZ_H
#define TURNLAY_TESTS_FUZZ_H

#include "compilation.h"

/* The name that the bytes go by as a file. */
#define FUZZ_PATH "input.lay"

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size);

/* Says what must not be, and ends the process as a sanitizer would. */
_Noreturn void fuzz_fault(const char *format, ...) __attribute__((format(printf, 1, 2)));

/* The bytes as a file that is read with all it uses; never NULL. Used files are those of stdlib/ in the working
 * folder; no other is there. */
Compilation *fuzz_read(const char *bytes, size_t size);
/* The same, planned. Not DONE and not HAS_ERRORS is a fault, and so is a sheet that its own replay refuses for
 * another reason than too few holders (T408).
 */
Compilation *fuzz_plan(const char *bytes, size_t size, TurnlayStatus *status);

/* A page must be UTF-8 without control characters but newline and, from a terminal's page, escape; JSON must be
 * JSON. */
void fuzz_look_at_page(const char *name, TurnlayFormat format, TurnlayText page);

#endif
