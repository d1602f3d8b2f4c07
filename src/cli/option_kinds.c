/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * option_kinds.c - the ready-made kinds of options.
 */
#include "cli/options.h"
#include "record/hits_form.h"
#include "task/touch_list.h"
#include "trueup/number.h"
#include "trueup/zero.h"

#include <math.h>
#include <string.h>
#include <strings.h>

#define SECONDS_MAX (1000.0 * 3600.0)

tu_status tu_option_take_flag(const tu_met *met, tu_error *error)
{
    (void)error;
    *(bool *)met->at = true;
    return TU_OK;
}

tu_status tu_option_take_text(const tu_met *met, tu_error *error)
{
    if (*met->argument == '\0')
        return tu_fail(error, TU_USAGE, NULL, "needs a %s, found an empty text",
                       met->option->argument);
    *(const char **)met->at = met->argument;
    return TU_OK;
}

tu_status tu_option_take_input(const tu_met *met, tu_error *error)
{
    return tu_option_take_text(met, error);
}

tu_status tu_option_take_output(const tu_met *met, tu_error *error)
{
    if (strcmp(met->argument, "-") == 0)
        return tu_fail(error, TU_USAGE, NULL,
                       "needs a file's name; standard output carries the answer");
    return tu_option_take_text(met, error);
}

tu_status tu_option_take_series(const tu_met *met, tu_error *error)
{
    if (!tu_hits_is_series(met->argument))
        return tu_fail(error, TU_USAGE, NULL,
                       "must be a name of at most 63 bytes without control characters, found "
                       "\"%s\"",
                       met->argument);
    return tu_option_take_text(met, error);
}

/* Stores a whole number in whatever type the request has for it. */
static void store_whole(const tu_met *met, uint64_t value)
{
    uint32_t small = (uint32_t)value;
    memcpy(met->at, met->option->size == sizeof small ? (const void *)&small : &value,
           met->option->size);
}

tu_status tu_option_take_choice(const tu_met *met, tu_error *error)
{
    const char *word = met->option->argument;
    char words[80] = "";
    for (uint64_t index = 0;; index++) {
        size_t length = strcspn(word, "|"), used = strlen(words);
        if (strlen(met->argument) == length && strncasecmp(met->argument, word, length) == 0) {
            store_whole(met, index);
            return TU_OK;
        }
        snprintf(words + used, sizeof words - used, "%s%.*s",
                 used == 0      ? ""
                 : word[length] ? ", "
                                : " or ",
                 (int)length, word);
        if (!word[length])
            break;
        word += length + 1;
    }
    return tu_fail(error, TU_USAGE, NULL, "must be %s, found \"%s\"", words, met->argument);
}

tu_status tu_option_take_whole(const tu_met *met, tu_error *error)
{
    const uint64_t *whole = met->option->whole;
    size_t length = strlen(met->argument);
    double value = -1;
    if (length > 0 && strspn(met->argument, "0123456789") == length)
        tu_number_parse(met->argument, length, &value, NULL);
    if (!(value >= (double)whole[0] && value <= (double)whole[1]))
        return tu_fail(error, TU_USAGE, NULL,
                       "must be a whole number from %llu to %llu, found \"%s\"",
                       (unsigned long long)whole[0], (unsigned long long)whole[1], met->argument);
    store_whole(met, (uint64_t)value);
    return TU_OK;
}

tu_status tu_option_take_unit(const tu_met *met, tu_error *error)
{
    tu_unit *unit = &met->common->unit;
    if (tu_unit_parse(met->argument, unit, NULL))
        return tu_fail(error, TU_USAGE, NULL, "must be mm or in, found \"%s\"", met->argument);
    met->common->typed.stated = true;
    *(tu_unit *)met->at = *unit;
    return TU_OK;
}

tu_status tu_option_take_angle(const tu_met *met, tu_error *error)
{
    return tu_angle_parse(met->argument, strlen(met->argument), met->at, error);
}

tu_status tu_option_take_seconds(const tu_met *met, tu_error *error)
{
    static const struct {
        const char *name;
        double seconds;
    } units[] = {{"min", 60.0}, {"s", 1.0}, {"h", 3600.0}};
    size_t length = strlen(met->argument);
    for (size_t i = 0; i < sizeof units / sizeof units[0]; i++) {
        size_t tail = strlen(units[i].name);
        double value;
        if (length <= tail || strcmp(met->argument + length - tail, units[i].name) != 0)
            continue;
        if (tu_number_parse(met->argument, length - tail, &value, NULL) || !(value > 0.0) ||
            value * units[i].seconds > SECONDS_MAX)
            break;
        *(double *)met->at = value * units[i].seconds;
        return TU_OK;
    }
    return tu_fail(error, TU_USAGE, NULL,
                   "must be a time with its unit, as in 90s, 10min or 1.5h, up to 1000h; found "
                   "\"%s\"",
                   met->argument);
}

/* Refuses what lies on the wrong side of zero. */
static tu_status check_sign(const tu_met *met, double value, tu_error *error)
{
    tu_option_sign sign = met->option->sign;
    if (sign == TU_ANY_SIGN || value > 0 || (sign == TU_NOT_BELOW_ZERO && value == 0))
        return TU_OK;
    return tu_fail(error, TU_DATA_RANGE, NULL, "must %s 0, found \"%s\"",
                   sign == TU_ABOVE_ZERO ? "be above" : "not be below", met->argument);
}

tu_status tu_feed_parse(const char *text, size_t length, tu_unit unit, double *feed_mm_per_min,
                        tu_error *error)
{
    tu_error detail;
    tu_status status = tu_number_parse(text, length, feed_mm_per_min, &detail);
    if (status)
        return tu_fail(error, status, NULL,
                       "%s; give the feed bare, in mm/min, or in in/min with --unit in",
                       detail.message);
    if (unit == TU_UNIT_INCH)
        *feed_mm_per_min *= TU_MM_PER_INCH;
    return TU_OK;
}

tu_status tu_option_take_feed(const tu_met *met, tu_error *error)
{
    double *feed = met->at;
    tu_status status =
        tu_feed_parse(met->argument, strlen(met->argument), met->common->unit, feed, error);
    return status ? status : check_sign(met, *feed, error);
}

tu_status tu_option_take_length(const tu_met *met, tu_error *error)
{
    const char *name = met->option->name, *text = met->argument;
    size_t length = strlen(text);
    tu_axis axis =
        strlen(name) == 1 && strchr("xyz", *name) ? (tu_axis)(*name - 'x') : TU_AXIS_COUNT;
    tu_quantity quantity;
    tu_status status = tu_axis_letter_skip(&text, &length, axis, error);
    if (!status)
        status = tu_quantity_parse(text, length, met->common->unit, &quantity, error);
    if (!status && !isnan(quantity.tolerance_mm))
        return tu_fail(error, TU_DATA_RANGE, NULL, "takes no tolerance, found \"%s\"",
                       met->argument);
    if (!status)
        status = check_sign(met, quantity.value_mm, error);
    if (status)
        return status;
    *(double *)met->at = quantity.value_mm;
    tu_typed_unit_note(&met->common->typed, met->argument);
    return TU_OK;
}

tu_status tu_option_take_size(const tu_met *met, tu_error *error)
{
    tu_status status =
        tu_typed_size_parse(met->argument, met->common->unit, met->option->use, met->at, error);
    if (!status)
        tu_typed_unit_note(&met->common->typed, met->argument);
    return status;
}

tu_status tu_option_take_places(const tu_met *met, tu_error *error)
{
    tu_status status =
        tu_places_parse(met->argument, met->common->unit, met->at, met->option->argument, error);
    if (!status)
        tu_typed_unit_note(&met->common->typed, met->argument);
    return status;
}

tu_status tu_option_take_slot(const tu_met *met, tu_error *error)
{
    return tu_slot_parse(met->argument, met->at, error);
}

tu_status tu_option_take_target(const tu_met *met, tu_error *error)
{
    tu_target target;
    tu_status status = tu_target_parse(met->argument, &target, error);
    if (!status)
        status = tu_target_check(target, error);
    *(tu_target *)met->at = target;
    if (status && error)
        *error->where = '\0'; /* which option or operand, the parser knows */
    if (status && error)
        error->status = TU_USAGE; /* the target is a word of the command line, not data */
    return status ? TU_USAGE : TU_OK;
}
