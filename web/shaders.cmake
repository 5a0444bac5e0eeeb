# Writes the shaders into a header: cmake -DOUTPUT=x.h "-DFILES=a.vert;a.frag" -P shaders.cmake
# shaders/tile.vert becomes embedded::tile_vert, so that a wrong name does not compile.
set(texts "")
foreach(file ${FILES})
  get_filename_component(name "${file}" NAME)
  string(REPLACE "." "_" name "${name}")
  file(READ "${file}" text)
  string(APPEND texts "inline constexpr std::string_view ${name} = R\"glsl(${text})glsl\";\n")
endforeach()
file(WRITE "${OUTPUT}" "#pragma once\n#include <string_view>\nnamespace embedded {\n${texts}}  // namespace embedded\n")
