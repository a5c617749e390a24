# SPDX-License-Identifier: GPL-3.0-or-later
#
# Differential of each filter with the trigger that calls its wash and its available head. Told:
#   wr_filters, wr_filters_all, wr_filter[]   filters shown, all there are, names
#   wr_unit, wr_trigger, wr_urgent            of heads; NaN for a trigger that is not there
#   wr_available[]                            available head by filter
#   wr_apart, wr_judged                       1 where a trigger judges another figure than the measured one, and which
#   $washed                                   from, to, filter; wr_washed is how many
#   $rows                                     time, then for each filter the measured and the judged differential

wr_lines = wr_term eq 'dumb' ? 9 + 9 * wr_filters : 8 + (wr_filters > 6 ? 4 : 5) * wr_filters
load 'style.gp'

set label 1 'Differential of each filter' . (wr_corrected ? ', corrected to the approved rate as its trigger sees it' : '') . ', ' . wr_unit
highest = 0
letters = 0
do for [f = 1:wr_filters] {
    letters = strlen(wr_filter[f]) > letters ? strlen(wr_filter[f]) : letters
    highest = wr_available[f] > highest ? wr_available[f] : highest
}
highest = wr_trigger > highest ? wr_trigger : highest
highest = wr_urgent > highest ? wr_urgent : highest
set yrange [0:highest * 1.12]
set ytics step_of(highest) font small

set lmargin at screen margin_for(letters)
eval(left_out(wr_filters, wr_filters_all, 'filters'))
set multiplot
do for [f = 1:wr_filters] {
    set tmargin at screen panel_top(f, wr_filters)
    set bmargin at screen panel_foot(f, wr_filters)
    eval(f < wr_filters ? bare_ticks : named_ticks)
    set label 4 wr_filter[f] at screen left_edge, panel_middle(f, wr_filters) left
    unset key
    if (f == 1) {
        eval(key_on)
    }
    if (f == 2) {
        eval(head_off)
    }
    judged = 2 * f + 1
    measured = 2 * f
    plot wr_available[f] with lines linewidth 1.5 dashtype (8, 4) linecolor rgb c_black title 'available head', \
         wr_urgent with lines linewidth 2.5 dashtype (2, 3) linecolor rgb c_red \
             title (wr_urgent == wr_urgent ? 'urgent' : ''), \
         wr_trigger with lines linewidth 1.5 dashtype (2, 3) linecolor rgb c_red \
             title (wr_trigger == wr_trigger ? 'trigger' : ''), \
         $washed using (($1 + $2) / 2):($3 == f ? highest / 2 : NaN):1:2:(0):(highest * 1.05) with boxxyerror \
             linecolor rgb c_light title (wr_washed > 0 ? 'washed' : ''), \
         $rows using 1:(wr_apart && !is_text ? column(measured) : NaN) with lines \
             linewidth 1 linecolor rgb c_grey title (wr_apart && !is_text ? 'measured' : ''), \
         $rows using 1:(column(judged)) with lines linewidth 2 linecolor rgb c_blue title wr_judged
}
unset multiplot
