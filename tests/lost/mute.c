/* turnlay with its mouth shut: linked with `--wrap=finding_add`, it tells no finding whose code stands in MUTE
 * (all of them if it says "all"). Whatever is then left out of a plan is left out in silence, and the last check
 * has to notice. */
#include "base/finding.h"

#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

Finding *__real_finding_add(Findings *findings, FindingCode code, Span span, const char *format, ...);
Finding *__wrap_finding_add(Findings *findings, FindingCode code, Span span, const char *format, ...);

Finding *__wrap_finding_add(Findings *findings, FindingCode code, Span span, const char *format, ...)
{
    static Finding unsaid;
    const char *mute = getenv("MUTE");
    if (mute && (strcmp(mute, "all") == 0 || strstr(mute, finding_code_text(code)))) {
        unsaid = (Finding){.code = code, .at = {span, ""}};
        return &unsaid;
    }
    va_list arguments;
    va_start(arguments, format);
    const char *message = text_format_list(findings->arena, format, arguments);
    va_end(arguments);
    return __real_finding_add(findings, code, span, "%s", message);
}
