/* What a page of HTML is written with. Texts of the builder's go through html_text alone, whatever they hold. */
#ifndef TURNLAY_EMIT_HTML_PAGE_H
#define TURNLAY_EMIT_HTML_PAGE_H

#include "base/buffer.h"

/* Any bytes, between tags or within quotes: signs of the markup are escaped; control characters, direction marks
 * and ill-formed UTF-8 become visible signs. */
void html_text(Buffer *out, const char *text);
/* The same, and no line of it ends between a number and its unit. */
void html_unbroken(Buffer *out, const char *text);
/* <tag class="name">text</tag>, or nothing where the text is empty or NULL; the text in a direction of its own,
 * and no line of it ends between a number and its unit. */
void html_element(Buffer *out, const char *tag, const char *name, const char *text);

#endif
