/* Style and script of the bench sheet's page (sheet.css and the scripts of this folder), put into the program by
 * embed.awk: lines with their ends, then NULL; and the hash of the whole, "sha256-...". */
#ifndef TURNLAY_EMIT_SHEET_SHEET_ASSETS_H
#define TURNLAY_EMIT_SHEET_SHEET_ASSETS_H

extern const char *const sheet_css[], *const sheet_js[];
extern const char sheet_css_hash[], sheet_js_hash[];

#endif
