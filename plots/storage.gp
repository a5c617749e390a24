# SPDX-License-Identifier: GPL-3.0-or-later
#
# Storage with its reserve, above demand and what is pumped. Told:
#   wr_volume, wr_reserve, wr_low_mark   whole storage in words; levels in percent of it
#   wr_unit                              of flows
#   wr_unmet                             rows in which demand is not met
#   $rows                                time, level in percent, demand, delivered, raw water

wr_lines = wr_term eq 'dumb' ? 41 : 27
load 'style.gp'

set label 1 'Storage and its reserve; demand and raw water'
set multiplot

set tmargin at screen panel_top(1, 2)
set bmargin at screen panel_foot(1, 2)
eval(bare_ticks)
set yrange [0:100]
set ytics 20
set ylabel 'storage, % of ' . wr_volume
set label 4 'reserve' at graph 0.005, first wr_reserve left offset 0, -0.6 front
if (wr_low_mark > wr_reserve) {
    set label 5 'low mark' at graph 0.995, first wr_low_mark right offset 0, 0.5 front
}
plot $rows using 1:2 with filledcurves y1=0 linecolor rgb c_light notitle, \
     $rows using 1:2 with lines linewidth 2 linecolor rgb c_blue notitle, \
     wr_reserve with lines linewidth 2.5 linecolor rgb c_red notitle, \
     (wr_low_mark > wr_reserve ? wr_low_mark : NaN) with lines dashtype (6, 4) linecolor rgb c_black notitle
eval(head_off)
unset label 4
unset label 5

set tmargin at screen panel_top(2, 2)
set bmargin at screen panel_foot(2, 2)
eval(named_ticks)
set yrange [0:*]
set ytics autofreq
set ylabel 'flow, ' . wr_unit
eval(key_on)
plot $rows using 1:5 with filledcurves y1=0 linecolor rgb c_faint title 'raw water', \
     $rows using 1:5 with lines linewidth 1 linecolor rgb c_grey notitle, \
     $rows using 1:3:4 with filledcurves above linecolor rgb c_red title (wr_unmet > 0 ? 'demand not met' : ''), \
     $rows using 1:3 with lines linewidth 2.5 linecolor rgb c_blue title 'demand'
unset multiplot
