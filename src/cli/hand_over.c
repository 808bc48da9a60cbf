/* PDF sheets are written by turnlay-pdf, the same program linked with cairo and pango, which lies beside this one.
 */
#include "cli/hand_over.h"

#include "cli/cli.h"
#include "emit/emit.h"

#include <limits.h>
#include <stdio.h>
#include <unistd.h>

ExitCode hand_over_pdf(const Arguments *arguments, char **words)
{
    if (arguments->verb != VERB_SHEET || arguments->format != FORMAT_PDF || sheet_pdf_is_built_in())
        return EXIT_CLEAN;
    char program[PATH_MAX];
    ssize_t length = readlink("/proc/self/exe", program, sizeof program - sizeof "-pdf");
    if (length > 0) {
        snprintf(program + length, sizeof program - (size_t)length, "-pdf");
        execv(program, words);
    }
    say("this turnlay was built without cairo and pango and cannot write PDF; --format html prints as well");
    return EXIT_WRONG_USE;
}
