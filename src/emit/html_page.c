#include "emit/html_page.h"
#include "base/unbroken.h"
#include "base/visible.h"

#include <string.h>

void html_text(Buffer *out, const char *text)
{
    static const char *const escapes[128] = {
        ['&'] = "&amp;", ['<'] = "&lt;", ['>'] = "&gt;", ['"'] = "&quot;", ['\''] = "&#39;"};
    for (const char *at = visible(out->arena, text); *at;) {
        const char *start = at;
        while (*at && ((unsigned char)*at >= 128 || !escapes[(unsigned char)*at]))
            at++;
        buffer_put(out, start, (size_t)(at - start));
        if (*at)
            buffer_text(out, escapes[(unsigned char)*at++]);
    }
}

void html_element(Buffer *out, const char *tag, const char *name, const char *text)
{
    if (!text || !*text)
        return;
    buffer_text(out, "<");
    buffer_text(out, tag);
    buffer_text(out, " class=\"");
    buffer_text(out, name);
    buffer_text(out, "\" dir=\"auto\">");
    html_text(out, unbroken(out->arena, text));
    buffer_text(out, "</");
    buffer_text(out, tag);
    buffer_text(out, ">\n");
}
