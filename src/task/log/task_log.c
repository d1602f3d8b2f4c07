/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * task_log.c - the use case "log": from a request to touches in a hit log.
 */
#include "trueup/task_log.h"

#include "task/log/log_session.h"
#include "trueup/shop.h"

#include <inttypes.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

tu_task_log_request tu_task_log_request_start(void)
{
    return (tu_task_log_request){.axis = TU_AXIS_COUNT, .for_s = (double)NAN};
}

static tu_status check(const tu_task_log_request *request, tu_error *error)
{
    if (!request->port)
        return tu_fail(error, TU_USAGE, "{port}",
                       "missing: where the lines come from, as in {port} /dev/ttyUSB0, or {port} - "
                       "for standard input");
    if (!request->out)
        return tu_fail(error, TU_USAGE, "{out}",
                       "missing: the file to log to, as in {out} bed.hits.jsonl");
    if (strcmp(request->port, "-") == 0 && (request->baud || request->frame))
        return tu_fail(error, TU_USAGE, request->baud ? "{baud}" : "{frame}",
                       "standard input has none; leave it out");
    const struct {
        const char *field, *path;
    } inputs[] = {{"{shop}", request->shop}, {"{expect}", request->expect}};
    for (size_t i = 0; i < 2; i++)
        if (inputs[i].path && strcmp(inputs[i].path, "-") == 0)
            return tu_fail(error, TU_USAGE, inputs[i].field,
                           "standard input is for the lines; name a file");
    return TU_OK;
}

/* The units that the shop's templates state, where those are what reads lines. */
typedef struct template_units {
    const char *name[2]; /* by tu_unit: the first template that states it; NULL: none does */
    bool all_state;      /* each of them does, and there is one */
} template_units;

static template_units list_units(const tu_task_log_request *request, const tu_shop *shop)
{
    template_units units = {{NULL, NULL}, false};
    size_t count;
    const tu_template *templates = tu_shop_templates(shop, &count);
    if (request->text)
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
static tu_status settle_unit(const tu_task_log_request *request, const tu_shop *shop, tu_unit *unit,
                             tu_error *error)
{
    const template_units units = list_units(request, shop);
    tu_unit other = request->unit == TU_UNIT_MM ? TU_UNIT_INCH : TU_UNIT_MM;
    if (request->typed.stated && units.name[other] && !units.name[request->unit])
        return tu_fail(error, TU_USAGE, "{unit}",
                       "the template \"%s\" of %s says that its lines are in %s; leave {unit} out, "
                       "or correct the unit there",
                       units.name[other], request->shop,
                       other == TU_UNIT_INCH ? "inches" : "millimetres");
    if (request->typed.stated)
        return TU_OK;
    if (units.all_state && !(units.name[TU_UNIT_MM] && units.name[TU_UNIT_INCH])) {
        *unit = units.name[TU_UNIT_INCH] ? TU_UNIT_INCH : TU_UNIT_MM;
        return TU_OK;
    }
    if (tu_shop_unit(shop) == request->unit)
        return TU_OK;
    return tu_fail(error, TU_USAGE, "{unit}",
                   "%s is in inches, and lines may name no unit: say {unit} in where the device "
                   "sends inches, or {unit} mm",
                   request->shop);
}

/* What a recording stands on. */
typedef struct ground {
    tu_shop *shop;
    tu_template text;
    tu_log_plan plan;
    tu_log_work work;
} ground;

static tu_status read_files(ground *on, const tu_task_log_request *request, tu_error *error)
{
    tu_status status = TU_OK;
    on->work.unit = request->unit;
    if (request->text)
        status = tu_template_parse(request->text, &on->text, error);
    if (!status && request->shop)
        status = tu_shop_read(request->shop, &on->shop, error);
    if (!status && on->shop)
        status = settle_unit(request, on->shop, &on->work.unit, error);
    if (!status && request->expect)
        status = tu_log_plan_read(request->expect, &on->plan, error);
    return status;
}

static tu_decode_setup decode_setup(const ground *on, const tu_task_log_request *request)
{
    tu_decode_setup setup = tu_decode_setup_start();
    setup.unit = on->work.unit;
    setup.axis = request->axis;
    setup.direction = request->direction;
    if (on->shop) {
        setup.machine = tu_shop_machine(on->shop);
        setup.templates = tu_shop_templates(on->shop, &setup.template_count);
    }
    if (request->text) {
        setup.templates = &on->text;
        setup.template_count = 1;
    }
    return setup;
}

static tu_status record(ground *on, const tu_task_log_request *request, int wake_fd,
                        tu_error *error)
{
    tu_log_work *work = &on->work;
    const tu_decode_setup setup = decode_setup(on, request);
    work->request = request;
    work->decoder = tu_decoder_start(&setup);
    work->plan = request->expect ? &on->plan : NULL;
    tu_status status = tu_log_session(work, wake_fd, error);
    work->story->expected = on->plan.count;
    work->story->landed = on->plan.course.landed;
    return status;
}

tu_status tu_task_log(const tu_task_log_request *request, int wake_fd, const tu_log_sink *sink,
                      tu_task_log_story *story, tu_error *error)
{
    *story = (tu_task_log_story){.request = request};
    tu_status status = check(request, error);
    if (status)
        return status;
    ground *on = calloc(1, sizeof *on);
    if (!on)
        return tu_fail(error, TU_SYSTEM_MEMORY, NULL, "out of memory");
    on->work.sink = sink;
    on->work.story = story;
    status = read_files(on, request, error);
    if (!status)
        status = record(on, request, wake_fd, error);
    tu_log_plan_destroy(&on->plan);
    tu_shop_destroy(on->shop);
    free(on);
    return status;
}

/* What was asked for has not all come: whoever goes on with the log must know. */
tu_status tu_task_log_verdict(const tu_task_log_story *story, tu_error *error)
{
    const tu_task_log_request *request = story->request;
    if (story->landed < story->expected)
        return tu_fail(error, TU_DATA_MISSING, request->expect,
                       "of its %zu touches %zu came; the log holds those", story->expected,
                       story->landed);
    if (request->count && story->counted < request->count)
        return tu_fail(error, TU_DATA_MISSING, "{log.count}",
                       "only %" PRIu64 " of %" PRIu64 " touches came; the log holds those",
                       story->counted, request->count);
    if (story->hits == 0 && story->unread > 0)
        return tu_fail(error, TU_DATA_SYNTAX, story->source,
                       "no line was read as a touch; the warnings say why, and the log holds the "
                       "lines");
    return TU_OK;
}

/* --- Whether a log is as it was written --- */

tu_status tu_task_log_verify(const char *path, tu_hitlog_finding *finding, tu_error *error)
{
    *finding = (tu_hitlog_finding){.path = strcmp(path, "-") == 0 ? "standard input" : path};
    return tu_hitlog_verify(path, &finding->report, tu_hitlog_finding_add, finding, error);
}

tu_status tu_task_log_verify_verdict(const tu_hitlog_finding *finding, tu_error *error)
{
    return tu_hitlog_is_sound(&finding->report)
               ? TU_OK
               : tu_fail(error, TU_DATA_SYNTAX, finding->path,
                         "not as it was written; the report says where. Keep a copy, take damaged "
                         "lines out, or log again");
}
