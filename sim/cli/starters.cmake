# SPDX-License-Identifier: GPL-3.0-or-later
#
# Writes the starters of scenarios/starters/ as a C source, so that the program has them with it wherever it is moved.
# usage: cmake -DOUT=FILE.c -DSTARTERS="FILE;FILE" -P starters.cmake

set(texts "")
set(rows "")
set(count 0)
foreach(starter IN LISTS STARTERS)
  get_filename_component(name "${starter}" NAME_WLE)
  file(READ "${starter}" bytes HEX)
  string(REGEX REPLACE "(..)" "0x\\1," bytes "${bytes}")
  string(APPEND texts "static const char text_${count}[] = {${bytes}0};\n")
  string(APPEND rows "    {\"${name}\", text_${count}},\n")
  math(EXPR count "${count} + 1")
endforeach()
file(WRITE "${OUT}" "#include \"sim/cli/starters.h\"\n\n${texts}\n"
     "const struct wr_starter wr_starters[] = {\n${rows}};\n\nconst size_t wr_starter_count = ${count};\n")
