/* SPDX-License-Identifier: GPL-3.0-or-later */
/* tally_answer.c: from lines to their tallies; every number comes from the library. */
#include "tally.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

dregs_status tally_compute(const dregs_line *line, const struct tally_request *request,
                           dregs_tally **tally, double *residue, char *message)
{
    dregs_map *map = NULL;
    dregs_worst worst = {0};
    dregs_status status = dregs_tally_new(line, &request->span, tally, message);

    *residue = NAN;
    if (status)
        return status;
    status = dregs_map_new(line, &map);
    if (!status)
        status = dregs_residue_worst(map, DREGS_EVERY_SOLUTE, DREGS_NO_END, &worst);
    if (!status)
        *residue = worst.residue;
    dregs_map_free(map);
    return status;
}

static int fill_one(struct tally_answer *answer, struct tally_one *one, const char *file)
{
    char message[DREGS_TALLY_MESSAGE] = "";
    dregs_status status;
    int exit_status = front_read_line(file, answer->liquids, &one->line);

    one->file = file;
    if (exit_status)
        return exit_status;
    status = tally_compute(one->line, answer->request, &one->tally, &one->residue, message);
    if (status == DREGS_NO_MEMORY)
        return front_say(FRONT_IO, "out of memory");
    if (status)
        return front_say(FRONT_BAD_DATA, "%s: %s%s", dregs_line_name(one->line),
                         *message ? message : dregs_status_text(status),
                         *message ? "; --loads N needs none" : "");
    return FRONT_DONE;
}

int tally_fill(struct tally_answer *answer, const struct tally_request *request,
               const dregs_liquids *liquids)
{
    int status = FRONT_DONE, one;
    unsigned i;

    answer->request = request;
    answer->liquids = liquids;
    for (i = 0; i < request->files; i++) { /* faults of every file are worth saying */
        one = fill_one(answer, &answer->one[answer->ones++], request->file[i]);
        status = status ? status : one;
    }
    if (!status && answer->ones == 1 && request->view == TALLY_BALANCE && !request->explain)
        status = tally_find_changes(answer);
    return status;
}

void tally_clear(struct tally_answer *answer)
{
    unsigned i;

    for (i = 0; i < answer->ones; i++) {
        dregs_tally_free(answer->one[i].tally);
        dregs_line_free(answer->one[i].line);
    }
    for (i = 0; i < answer->changes; i++) {
        dregs_tally_free(answer->change[i].tally);
        dregs_line_free(answer->change[i].line);
    }
}
