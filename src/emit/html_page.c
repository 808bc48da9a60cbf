#include "emit/html_page.h"
#include "base/visible.h"

#include <string.h>

void html_text(Buffer *out, const char *text)
{
    static const struct {
        char sign;
        const char *written;
    } escapes[] = {{'&', "&amp;"}, {'<', "&lt;"}, {'>', "&gt;"}, {'"', "&quot;"}, {'\'', "&#39;"}};
    for (const char *at = visible(out->arena, text); *at; at++) {
        size_t i = 0, count = sizeof escapes / sizeof *escapes;
        while (i < count && escapes[i].sign != *at)
            i++;
        if (i < count)
            buffer_text(out, escapes[i].written);
        else
            buffer_put(out, at, 1);
    }
}

void html_element(Buffer *out, const char *tag, const char *name, const char *text)
{
    if (!text || !*text)
        return;
    buffer_format(out, "<%s class=\"%s\" dir=\"auto\">", tag, name);
    html_text(out, text);
    buffer_format(out, "</%s>\n", tag);
}
