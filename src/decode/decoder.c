/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * decoder.c - bytes to lines, lines to records, and the numbering of lines.
 */
#include "decode/line.h"
#include "decode/template.h"
#include "decode/track.h"

#include <string.h>

/* So many bytes that are no text, nine tenths of all since the last line that was read, are a
 * flood. A sentence with a wrong checksum is text: that is a bad cable, not a wrong baud rate. */
enum { FLOOD_BYTES = 256, FLOOD_SHARE = 9 };

enum { FORM_SENTENCE, FORM_JSON, FORM_TEMPLATE }; /* indexes of tu_decoder.track */

/* A call of tu_decoder_feed or tu_decoder_finish. */
typedef struct run {
    tu_decoder *decoder;
    tu_decode_sink *sink;
    void *context;
} run;

tu_decode_setup tu_decode_setup_start(void)
{
    return (tu_decode_setup){
        .machine = tu_machine_start(), .unit = TU_UNIT_MM, .axis = TU_AXIS_COUNT};
}

tu_decoder tu_decoder_start(const tu_decode_setup *setup)
{
    return (tu_decoder){.setup = *setup};
}

static void emit(const run *r, const tu_decoded *decoded)
{
    r->sink(r->context, decoded);
}

static void emit_unread(const run *r, const char *reason, const char *bytes, size_t length)
{
    tu_line line = tu_line_start();
    line.decoded.kind = TU_DECODED_UNREAD;
    line.decoded.reason = reason;
    line.decoded.bytes = bytes;
    line.decoded.length = length;
    r->decoder->unread++;
    emit(r, &line.decoded);
}

/* A record beside the line that gave rise to it. */
static void emit_beside(const run *r, tu_decoded_kind kind, uint64_t count, const tu_decoded *line)
{
    tu_line beside = tu_line_start();
    beside.decoded.kind = kind;
    beside.decoded.count = count;
    beside.decoded.sequence = line->sequence;
    beside.decoded.has_sequence = line->has_sequence;
    emit(r, &beside.decoded);
}

/* Books bytes, line ends included, by what they were. */
static void book(const run *r, tu_line_verdict verdict, size_t length)
{
    tu_decoder *d = r->decoder;
    if (verdict == TU_LINE_READ) {
        d->good_bytes += length;
        d->text_run = d->noise_run = 0;
        return;
    }
    bool noise = verdict == TU_LINE_NOISE;
    *(noise || verdict == TU_LINE_DAMAGED ? &d->bad_bytes : &d->text_bytes) += length;
    *(noise ? &d->noise_run : &d->text_run) += length;
    if (!d->flood_said && d->noise_run >= FLOOD_BYTES &&
        d->noise_run >= FLOOD_SHARE * d->text_run) {
        tu_line flood = tu_line_start();
        flood.decoded.kind = TU_DECODED_FLOOD;
        flood.decoded.count = d->noise_run;
        d->flood_said = true;
        emit(r, &flood.decoded);
    }
}

/* Follows the numbering, says what was lost or started anew. False: the same line again. */
static bool follow(const run *r, int form, const tu_decoded *line)
{
    tu_decoder *d = r->decoder;
    tu_decode_track *track = &d->track[form];
    uint64_t missing = 0;
    tu_track_step step = tu_track_judge(track, line, form == FORM_JSON, d->heard, &missing);
    if (step == TU_TRACK_AGAIN)
        return false;
    if (step == TU_TRACK_RESTART) {
        for (int i = 0; i < TU_DECODE_FORMS; i++)
            d->track[i] = (tu_decode_track){0};
        d->counts_stale = true;
        d->restarts++;
        emit_beside(r, TU_DECODED_RESTART, 0, line);
    }
    if (missing > 0) {
        d->lost += missing;
        emit_beside(r, TU_DECODED_LOST, missing, line);
    }
    if (step != TU_TRACK_RESTART && d->provable && line->has_boot)
        d->interrupted = false; /* the same start of the device: nothing began anew */
    tu_track_advance(track, line);
    d->heard = true;
    return true;
}

/* What a line that is clean text says; the verdict is for the books. */
static tu_line_verdict read_clean(const run *r, const char *text, size_t length)
{
    typedef tu_line_verdict reader(const char *, size_t, const tu_decode_setup *, tu_line *);
    static reader *const readers[TU_DECODE_FORMS] = {[FORM_SENTENCE] = tu_sentence_read,
                                                     [FORM_JSON] = tu_json_line_read,
                                                     [FORM_TEMPLATE] = tu_template_read};
    tu_decoder *d = r->decoder;
    size_t first = strspn(text, " \t");
    int form = *text == '$' ? FORM_SENTENCE : text[first] == '{' ? FORM_JSON : FORM_TEMPLATE;
    tu_line line = tu_line_start();
    tu_line_verdict verdict = readers[form](text, length, &d->setup, &line);
    bool read = verdict == TU_LINE_READ;
    if ((read || line.decoded.has_sequence) && !follow(r, form, &line.decoded)) {
        emit_unread(r, "the same line again", text, length);
        return TU_LINE_REFUSED;
    }
    if (read && line.counts && d->counts_stale) {
        emit_unread(r, "step counts after a restart, which began anew where nobody knows", text,
                    length);
        return TU_LINE_REFUSED;
    }
    if (read && line.counts && d->interrupted) {
        emit_unread(r,
                    "step counts after the plug was pulled, and no boot number says that they "
                    "went on",
                    text, length);
        return TU_LINE_REFUSED;
    }
    if (!read) {
        emit_unread(r, line.decoded.reason, text, length);
        return verdict;
    }
    d->hits += line.decoded.kind == TU_DECODED_HIT;
    line.decoded.bytes = text;
    line.decoded.length = length;
    emit(r, &line.decoded);
    return verdict;
}

/* Where a whole sentence of ours starts that ends with the line; length: none does. */
static size_t find_sentence(const char *text, size_t length)
{
    size_t at = length;
    while (at > 0 && text[at - 1] != '$')
        at--;
    bool ours = at > 0 && length - at > 2 && memcmp(text + at, "TU", 2) == 0 &&
                tu_sentence_is_whole(text + at - 1, length - at + 1);
    return ours ? at - 1 : length;
}

/* Why a line is no text at all; NULL: it is. */
static const char *find_damage(const char *text, size_t length)
{
    if (memchr(text, '\0', length))
        return "a line with a NUL byte";
    return tu_template_is_clean(text, length) ? NULL
                                              : "a line that is not text: control characters, or "
                                                "bytes that are no UTF-8";
}

/* The line ended; ends: bytes of the line end, 0 or 1. */
static void end_line(const run *r, size_t ends)
{
    tu_decoder *d = r->decoder;
    char *text = d->line;
    size_t length = d->length;
    bool rest = d->overlong;
    d->length = 0;
    d->overlong = false;
    text[length] = '\0';
    size_t start = find_sentence(text, length);
    if (start < length) { /* what stands before it was cut off by a reset, or is noise */
        if (start > 0) {
            emit_unread(r, "cut short by a sentence that starts in mid-line", text, start);
            book(r, TU_LINE_DAMAGED, start);
        }
        book(r, read_clean(r, text + start, length - start), length - start + ends);
        return;
    }
    if (strspn(text, " \t") == length) {
        book(r, TU_LINE_REFUSED, length + ends);
        return;
    }
    const char *damage = rest ? "the rest of a line that is too long" : find_damage(text, length);
    if (damage)
        emit_unread(r, damage, text, length);
    book(r, damage ? TU_LINE_NOISE : read_clean(r, text, length), length + ends);
}

void tu_decoder_feed(tu_decoder *decoder, const char *bytes, size_t length, tu_decode_sink *sink,
                     void *context)
{
    const run r = {decoder, sink, context};
    for (size_t i = 0; i < length; i++) {
        char c = bytes[i];
        if (c == '\r' || c == '\n') {
            end_line(&r, 1);
            continue;
        }
        if (decoder->length == TU_LINE_MAX) {
            emit_unread(&r, "a line of more than 512 bytes", decoder->line, TU_LINE_MAX);
            decoder->length = 0;
            decoder->overlong = true;
            book(&r, TU_LINE_NOISE, TU_LINE_MAX);
        }
        decoder->line[decoder->length++] = c;
    }
}

void tu_decoder_finish(tu_decoder *decoder, tu_decode_sink *sink, void *context)
{
    const run r = {decoder, sink, context};
    size_t length = decoder->length;
    decoder->length = 0;
    decoder->overlong = false;
    if (!decoder->interrupted)
        decoder->provable = decoder->track[FORM_SENTENCE].has_boot;
    decoder->interrupted = true;
    if (length > 0) {
        emit_unread(&r, "a line that was cut before its end", decoder->line, length);
        book(&r, TU_LINE_DAMAGED, length);
    }
}
