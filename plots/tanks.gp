# SPDX-License-Identifier: GPL-3.0-or-later
#
# The wash-water tank and the spent-wash tanks. Told:
#   wr_wash_tanks                         1 where the first is the wash-water tank
#   wr_tanks, wr_tanks_all                tanks shown, all there are
#   wr_tank[], wr_volume[]                names and volumes
#   wr_room                               room that a wash takes
#   wr_unit                               of volumes
#   $rows                                 time, then the level of each tank

wr_lines = wr_term eq 'dumb' ? 9 + 9 * wr_tanks : 9 + 6 * wr_tanks
load 'style.gp'

set label 1 'Wash water and spent wash water in their tanks, in ' . wr_unit
letters = 0
do for [t = 1:wr_tanks] {
    letters = strlen(wr_tank[t]) > letters ? strlen(wr_tank[t]) : letters
}
set lmargin at screen margin_for(letters) + (is_text ? 0.03 : 0)
eval(left_out(wr_tanks, wr_tanks_all, 'tanks'))
set multiplot
do for [t = 1:wr_tanks] {
    is_wash = t <= wr_wash_tanks
    set tmargin at screen panel_top(t, wr_tanks)
    set bmargin at screen panel_foot(t, wr_tanks)
    eval(t < wr_tanks ? bare_ticks : named_ticks)
    set yrange [0:wr_volume[t] * 1.08]
    set ytics step_of(wr_volume[t]) font small
    set label 4 wr_tank[t] at screen left_edge, panel_middle(t, wr_tanks) left
    unset key
    if (t == 1) {
        eval(key_on)
    }
    if (t == 2) {
        eval(head_off)
    }
    plot $rows using 1:(column(t + 1)) with filledcurves y1=0 linecolor rgb (is_wash ? c_light : c_faint) notitle, \
         $rows using 1:(column(t + 1)) with lines linewidth 2 linecolor rgb (is_wash ? c_blue : c_black) notitle, \
         wr_volume[t] with lines linewidth 1 linecolor rgb c_grey notitle, \
         (is_wash ? NaN : wr_volume[t] - wr_room) with lines dashtype (6, 4) linecolor rgb c_red notitle, \
         keyentry with lines dashtype (6, 4) linecolor rgb c_red title (wr_tanks > wr_wash_tanks ? 'a spent-wash tank above this has no room for a wash' : '')
}
unset multiplot
