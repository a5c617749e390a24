# SPDX-License-Identifier: GPL-3.0-or-later
#
# The wash-water tank and the spent-wash tanks. Told:
#   wr_wash_tanks                         1 where the first is the wash-water tank
#   wr_tanks, wr_tanks_all                tanks shown, all there are
#   wr_tank[], wr_volume[]                names and volumes
#   wr_room                               room that a wash takes
#   wr_unit                               of volumes
#   wr_layers                             1 where spent-wash tanks show their blanket of sludge and their clear water
#   $rows                                 time, then the level of each tank; with layers then of each spent-wash tank
#                                         its blanket and its clear water

wr_lines = wr_term eq 'dumb' ? 9 + 9 * wr_tanks : 9 + 6 * wr_tanks
load 'style.gp'

set label 1 'Wash water and spent wash water in their tanks, in ' . wr_unit

# Of a spent-wash tank whose layers are known: where its blanket stands in a row, how high it reaches without its clear
# water, and what is at a height.
blanket(t) = wr_tanks + 2 * (t - wr_wash_tanks)
turbid(t) = column(t + 1) - column(blanket(t) + 1)
letter(t, y) = y <= column(blanket(t)) ? '#' : y <= turbid(t) ? '~' : y <= column(t + 1) ? '.' : ''
if (is_text && wr_layers) {
    set label 5 '.  clear, to be drawn off    ~  settles or stays    #  sludge' at screen 0, line(3)
}
letters = 0
do for [t = 1:wr_tanks] {
    letters = strlen(wr_tank[t]) > letters ? strlen(wr_tank[t]) : letters
}
set lmargin at screen margin_for(letters) + (is_text ? 0.03 : 0)
eval(left_out(wr_tanks, wr_tanks_all, 'tanks'))

# A panel, by letters and by areas: clear water is pale, water that is not is hatched, sludge dark.
no_room = is_text && wr_layers || wr_tanks == wr_wash_tanks ? '' : wr_layers ? 'no room for a wash' : 'a spent-wash tank above this has no room for a wash'
as_text = "plot for [k = 1:15] $rows using 1:(k * wr_volume[t] / 15.0):(letter(t, k * wr_volume[t] / 15.0)) " \
    . "    with labels notitle, " \
    . "  $rows using 1:(column(t + 1)) with lines linecolor rgb c_black notitle"
as_areas = "plot " \
    . "  $rows using 1:(has_layers ? NaN : column(t + 1)) with filledcurves y1=0 " \
    . "    linecolor rgb (is_wash ? c_light : c_faint) notitle, " \
    . "  $rows using 1:(has_layers ? turbid(t) : NaN):(column(t + 1)) with filledcurves " \
    . "    fillstyle solid 1 linecolor rgb c_light notitle, " \
    . "  $rows using 1:(has_layers ? column(blanket(t)) : NaN):(turbid(t)) with filledcurves " \
    . "    fillstyle pattern 4 linecolor rgb c_orange notitle, " \
    . "  $rows using 1:(has_layers ? column(blanket(t)) : NaN) with filledcurves y1=0 " \
    . "    fillstyle solid 1 linecolor rgb c_grey notitle, " \
    . "  $rows using 1:(has_layers ? column(blanket(t)) : NaN) with lines linewidth 1 linecolor rgb c_black notitle, " \
    . "  $rows using 1:(column(t + 1)) with lines linewidth 2 linecolor rgb (is_wash ? c_blue : c_black) notitle, " \
    . "  wr_volume[t] with lines linewidth 1 linecolor rgb c_grey notitle, " \
    . "  (is_wash ? NaN : wr_volume[t] - wr_room) with lines dashtype (6, 4) linecolor rgb c_red notitle, " \
    . "  keyentry with boxes fillstyle solid 1 linecolor rgb c_light title (areas_named ? 'clear water' : ''), " \
    . "  keyentry with boxes fillstyle pattern 4 linecolor rgb c_orange title (areas_named ? 'settles or stays' : ''), " \
    . "  keyentry with boxes fillstyle solid 1 linecolor rgb c_grey title (areas_named ? 'sludge' : ''), " \
    . "  keyentry with lines dashtype (6, 4) linecolor rgb c_red title no_room"
areas_named = wr_layers && !is_text

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
    has_layers = wr_layers && !is_wash
    if (has_layers && is_text) {
        eval(as_text)
    } else {
        eval(as_areas)
    }
}
unset multiplot
