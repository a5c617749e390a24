# SPDX-License-Identifier: GPL-3.0-or-later
#
# What all pictures share. A script sets wr_lines, the height of its plot in lines of text, and loads this; it is told:
#   wr_term     'png', 'svg' or 'dumb'
#   wr_plant    title of the plant
#   wr_caution  for the foot
# and for pictures of a run wr_from, wr_until (days of the calendar, day 1 begins at 1), wr_stretch, wr_first_day.
#
# Colours are those of M. Okabe and K. Ito, "Color Universal Design", 2008, which readers with any kind of colour vision
# tell apart. Nothing is told by colour alone: fills differ in lightness or hatch, lines in width or dash.

set encoding utf8

c_black = '#000000'
c_orange = '#e69f00'
c_sky = '#56b4e9'
c_green = '#009e73'
c_yellow = '#f0e442'
c_blue = '#0072b2'
c_red = '#d55e00'
c_purple = '#cc79a7'
c_light = '#c9e4f6' # the sky's, paler
c_grey = '#6e6e6e'
c_faint = '#dcdcdc'

is_text = wr_term eq 'dumb'

# A drawing is 1150 wide; a line of text takes 22 of its height.
if (wr_term eq 'png') {
    set terminal pngcairo size 1150, 22 * wr_lines font 'sans,11' noenhanced background '#ffffff' linewidth 1
}
if (wr_term eq 'svg') {
    set terminal svg size 1150, 22 * wr_lines font 'sans-serif,14' noenhanced background '#ffffff' mouse standalone
}
if (is_text) {
    set terminal dumb size 118, wr_lines nofeed noenhanced
}

# Places on the sheet are counted in lines from its top, and in shares of its width.
line(n) = 1 - real(n) / wr_lines
left_edge = is_text ? 0.0 : 0.012

set border 3 linecolor rgb c_grey linewidth 1
set tics out nomirror
set xtics scale 0.8, 0.4
set style fill solid noborder
set key off

big = is_text ? '' : ',15'
small = is_text ? '' : (wr_term eq 'png' ? ',9' : ',11')

# Heading, a line under it, and the caution in the foot. Labels 1 to 3 are taken.
set label 1 at screen left_edge, line(is_text ? 0.6 : 1.1) left front font big
set label 2 at screen left_edge, line(is_text ? 1.6 : 2.2) left front textcolor rgb c_grey
set label 3 wr_caution at screen left_edge, line(wr_lines - 0.6) left front font small textcolor rgb c_grey
if (is_text) {
    set label 3 'A simulation, for planning and teaching; not a design. Verify on the plant.'
}

# The time axis: days with their midnights, and the clock where there is room for it.
wr_has_time = exists('wr_from')
if (wr_has_time) {
    span = wr_until - wr_from
    step = span <= 1.01 ? 1.0 / 8 : span <= 2.51 ? 1.0 / 4 : span <= 14.01 ? 1.0 : ceil(span / 12)
    fine = span <= 1.01 ? 1.0 / 24 : span <= 2.51 ? 1.0 / 12 : span <= 14.01 ? 1.0 / 4 : step / 4.0
    is_midnight(t) = abs(t - floor(t + 0.5)) < 1e-6
    clock(t) = sprintf('%02d:%02d', floor((t - floor(t)) * 24 + 1e-6), \
                       floor((t * 24 - floor(t * 24 + 1e-6)) * 60 + 0.5))
    moment(t) = is_midnight(t) ? sprintf('day %d', floor(t + 0.5)) : clock(t)
    set xrange [wr_from:wr_until]
    # Two sets of marks, to be put in force by eval: named ones, and bare ones for a panel above another.
    named_ticks = ''
    bare_ticks = ''
    first = ceil(wr_from / step - 1e-6) * step
    do for [i = 0:floor((wr_until - first) / step + 1e-6)] {
        named_ticks = named_ticks . sprintf('"%s" %.9f, ', moment(first + i * step), first + i * step)
        bare_ticks = bare_ticks . sprintf('"" %.9f, ', first + i * step)
    }
    fine_ticks = ''
    first_fine = ceil(wr_from / fine - 1e-6) * fine
    do for [i = 0:floor((wr_until - first_fine) / fine + 1e-6)] {
        fine_ticks = fine_ticks . sprintf('%s"" %.9f 1', i > 0 ? ', ' : '', first_fine + i * fine)
    }
    named_ticks = 'set xtics (' . named_ticks . fine_ticks . ')'
    bare_ticks = 'set xtics (' . bare_ticks . fine_ticks . ')'
    eval(named_ticks)
    set label 2 wr_plant . '  |  ' . wr_stretch . '; a day stands at its midnight, day 1 is ' . wr_first_day
} else {
    set label 2 wr_plant
}

# In a picture of characters a grid would be read as data.
if (!is_text) {
    set grid xtics linecolor rgb c_faint linewidth 1 linetype 1
}

# The key stands in a row under the head.
key_on = 'set key at screen (is_text ? 0.985 : 0.975), line(is_text ? 3.3 : 3.5) right center horizontal Left reverse ' \
    . 'samplen 2.5 width (is_text ? 1 : -1)'

# Margins of the plot, in shares of the sheet.
set lmargin at screen is_text ? 0.17 : 0.105
set rmargin at screen is_text ? 0.985 : 0.975

# Wide enough for names of so many letters before the marks of an axis.
margin_for(letters) = is_text ? 0.17 : (letters > 32 ? 0.32 : letters > 6 ? 0.06 + 0.0082 * letters : 0.11)

# A step between marks of an axis that runs from 0 to high in a low panel: three or four marks.
step_of(high) = (high / 3 / 10**floor(log10(high / 3)) < 1.5 ? 1 : high / 3 / 10**floor(log10(high / 3)) < 3 ? 2 : \
                 high / 3 / 10**floor(log10(high / 3)) < 7 ? 5 : 10) * 10**floor(log10(high / 3))

# A panel of a picture that has several, one above another: its top and foot between the head and the foot of the sheet.
head_lines = is_text ? 5.0 : 4.6
foot_lines = is_text ? 3.5 : 3.2
panel_top(i, n) = line(head_lines + (wr_lines - head_lines - foot_lines) * (i - 1.0) / n + (i > 1 ? 0.7 : 0))
panel_foot(i, n) = line(head_lines + (wr_lines - head_lines - foot_lines) * i / n - (i < n ? 0.3 : 0))
panel_middle(i, n) = (panel_top(i, n) + panel_foot(i, n)) / 2
head_off = 'unset label 1; unset label 2; unset label 3; unset label 9' # once a picture is enough

# What is left out, in the foot, to be put in force by eval.
left_out(shown, all, what) = shown == all ? '' : sprintf('set label 9 "the first %d of %d %s" at screen 0.975, ' \
    . 'line(wr_lines - 0.6) right front textcolor rgb c_red', shown, all, what)
