/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * command_log.c - `trueup log`: touches from a device into a hit log.
 */
#include "cli/command.h"
#include "cli/log_check.h"
#include "cli/log_options.h"
#include "cli/log_session.h"
#include "program/log_plan.h"
#include "trueup/shop.h"

#include <stdlib.h>

/* The units that the shop's templates state, where those are what reads lines. */
typedef struct template_units {
    const char *name[2]; /* by tu_unit: the first template that states it; NULL: none does */
    bool all_state;      /* each of them does, and there is one */
} template_units;

static template_units list_units(const tu_log_options *options, const tu_shop *shop)
{
    template_units units = {{NULL, NULL}, false};
    size_t count;
    const tu_template *templates = tu_shop_templates(shop, &count);
    if (options->template_text)
        return units;
    units.all_state = count > 0;
    for (size_t i = 0; i < count; i++) {
        const char **name = &units.name[templates[i].unit];
        if (!templates[i].unit_stated)
            units.all_state = false;
        else if (!*name)
            *name = tu_shop_template_name_at(shop, i);
    }
    return units;
}

/*
 * Settles the unit of lines that name none. Lines of an inch controller that are read as
 * millimetres lie within the travel.
 */
static tu_status settle_unit(tu_log_options *options, const tu_shop *shop, tu_error *error)
{
    const template_units units = list_units(options, shop);
    tu_unit other = options->unit == TU_UNIT_MM ? TU_UNIT_INCH : TU_UNIT_MM;
    if (options->common.typed.stated && units.name[other] && !units.name[options->unit])
        return tu_fail(error, TU_USAGE, "--unit",
                       "the template \"%s\" of %s says that its lines are in %s; leave --unit out, "
                       "or correct the unit there",
                       units.name[other], options->shop_path,
                       other == TU_UNIT_INCH ? "inches" : "millimetres");
    if (options->common.typed.stated)
        return TU_OK;
    if (units.all_state && !(units.name[TU_UNIT_MM] && units.name[TU_UNIT_INCH])) {
        options->unit = units.name[TU_UNIT_INCH] ? TU_UNIT_INCH : TU_UNIT_MM;
        return TU_OK;
    }
    if (tu_shop_unit(shop) == options->unit)
        return TU_OK;
    return tu_fail(error, TU_USAGE, "--unit",
                   "%s is in inches, and lines may name no unit: say --unit in where the device "
                   "sends inches, or --unit mm",
                   options->shop_path);
}

static tu_status record(tu_log_options *options, tu_error *error)
{
    tu_shop *shop = NULL;
    tu_log_plan plan = {0};
    tu_status status = TU_OK;
    if (options->shop_path)
        status = tu_shop_read(options->shop_path, &shop, error);
    if (!status && shop)
        status = settle_unit(options, shop, error);
    if (!status && options->plan_path)
        status = tu_log_plan_read(options->plan_path, &plan, error);
    if (!status)
        status = tu_log_record(options, shop, options->plan_path ? &plan : NULL, error);
    tu_log_plan_destroy(&plan);
    tu_shop_destroy(shop);
    return status;
}

static void start(void *of)
{
    tu_log_options_start(of);
}

static tu_status work(void *of, tu_error *error)
{
    tu_log_options *options = of;
    tu_status status = tu_log_options_check(options, error);
    if (status)
        return status;
    return options->verify_path ? tu_log_check(options->verify_path, options->json, error)
                                : record(options, error);
}

const tu_command tu_command_log = {
    .name = "log",
    .summary = "records hits from a serial port or standard input",
    .about =
        "Records touches in a hit log, a line each. A touch is shown only when it is on the disk: "
        "what was shown is not lost, whatever happens to the cable, the power or this program. "
        "Lines that are no touch are kept in the log as they came, and gaps in the numbering of "
        "the device are recorded.\n\n"
        "On a terminal the last touch and the figures of its axis are shown live; elsewhere each "
        "touch is a line. Ctrl-C ends a recording cleanly. A log that exists is added to; a line "
        "that a power cut tore is kept aside first. An adapter that is unplugged is waited for.\n\n"
        "Exit status 3: fewer touches came than --count or --expect ask for, or --verify found "
        "damage. 4: the port or the disk failed; touches that are not in the log are listed.",
    .example = "  trueup log --port /dev/ttyUSB0 --out bed.hits.jsonl --expect bed.ngc\n"
               "  trueup log --verify bed.hits.jsonl\n",
    .syntax = &tu_log_syntax_table,
    .size = sizeof(tu_log_options),
    .start = start,
    .work = work,
};
