# SPDX-License-Identifier: GPL-3.0-or-later
#
# Recycle against the share of raw water that limits it, and what held it back. Told:
#   wr_unit             of flows
#   wr_pump             flow of the pump
#   wr_share            its greatest share of the raw flow, in words
#   wr_held, wr_limit[] how many limits held outlets back, and their words
#   wr_blend            most dry solids of raw water and recycle together; NaN for no bound
#   wr_blend_unit       of such solids
#   wr_emergency        1 where an outlet is there for emergencies
#   $held               from, to, limit
#   $rows               time, recycle, most that its share allows, solids of the blend, flow by emergency outlets

has_blend = wr_blend == wr_blend
wr_lines = (wr_term eq 'dumb' ? 27 : 20) + 2 * wr_held + (has_blend ? (wr_term eq 'dumb' ? 12 : 9) : 0)
load 'style.gp'

set label 1 'Recycle against its limit, ' . wr_share . ' of the raw flow' . (wr_held > 0 ? ', and what held it back' : '')
set multiplot

# From above: flows, the solids of the blend where they are bounded, what held recycle.
panel_lines = wr_lines - head_lines - foot_lines
held_lines = wr_held > 0 ? 2.0 * wr_held + 1 : 0
blend_lines = has_blend ? (is_text ? 12 : 9) : 0
set tmargin at screen panel_top(1, 1)
set bmargin at screen line(head_lines + panel_lines - held_lines - blend_lines)
eval(wr_held > 0 || has_blend ? bare_ticks : named_ticks)
set yrange [0:*]
set ylabel 'flow, ' . wr_unit
eval(key_on)
plot $rows using 1:2 with filledcurves y1=0 linecolor rgb c_sky title 'recycle', \
     wr_pump with lines linewidth 1.5 dashtype (2, 3) linecolor rgb c_black \
         title 'its pump', \
     $rows using 1:3 with lines linewidth 2 linecolor rgb c_red title wr_share . ' of the raw flow', \
     $rows using 1:(wr_emergency ? column(5) : NaN) with filledcurves y1=0 fillstyle pattern 2 linecolor rgb c_black \
         title (wr_emergency ? 'out in an emergency' : '')
eval(head_off)

if (has_blend) {
    set tmargin at screen line(head_lines + panel_lines - held_lines - blend_lines + 0.8)
    set bmargin at screen line(head_lines + panel_lines - held_lines)
    eval(wr_held > 0 ? bare_ticks : named_ticks)
    set ylabel 'solids, ' . wr_blend_unit
    set yrange [* < 0.95 * wr_blend:1.05 * wr_blend < *]
    set ytics autofreq font small
    set key at graph 0.995, 0.12 right center
    if (is_text) {
        set label 5 '*  raw water and recycle together   #  their bound' at graph 0.01, 0.1 left
    }
    plot $rows using 1:4 with lines linewidth 2 linecolor rgb c_green title 'raw water and recycle together', \
         wr_blend with lines linewidth 1.5 dashtype (6, 4) linecolor rgb c_red title 'their bound'
    unset key
    unset label 5
}

if (wr_held > 0) {
    set tmargin at screen line(head_lines + panel_lines - held_lines + 0.8)
    set bmargin at screen panel_foot(1, 1)
    eval(named_ticks)
    set yrange [0.4:wr_held + 0.6]
    unset ytics
    unset ylabel
    unset key
    do for [h = 1:wr_held] {
        set label 10 + h wr_limit[h] at graph 0.005, first wr_held + 1 - h + 0.28 left front font small
    }
    plot $held using (($1 + $2) / 2):(wr_held + 1 - $3):1:2:(wr_held + 1 - $3 - 0.4):(wr_held + 1 - $3 - 0.05) \
             with boxxyerror fillstyle pattern 4 border linecolor rgb c_red linecolor rgb c_red
}
unset multiplot
