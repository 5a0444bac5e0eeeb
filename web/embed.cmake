# Files become part of a program: fw_embed at configure time, and the script that writes the source at build time.
#
#   fw_embed(TARGET NAME FILE...)
#
# gives TARGET a function `std::vector<embedded::File> embedded::NAME()`, declared in "embedded/NAME.h", with every FILE under
# its bare name, in the order given. The bytes live as long as the program.
if(CMAKE_SCRIPT_MODE_FILE)
  set(arrays "")
  set(entries "")
  set(index 0)
  foreach(file ${FILES})
    get_filename_component(bare "${file}" NAME)
    file(READ "${file}" bytes HEX)
    string(REGEX REPLACE "([0-9a-f][0-9a-f])" "0x\\1," bytes "${bytes}")
    # An array of no elements is not C++, so every one ends with a zero that is not counted.
    string(APPEND arrays "const unsigned char k_file_${index}[] = {${bytes}0};\n")
    string(APPEND entries "      {\"${bare}\", {reinterpret_cast<const char*>(k_file_${index}), sizeof(k_file_${index}) - 1}},\n")
    math(EXPR index "${index} + 1")
  endforeach()
  file(WRITE "${OUTPUT}.cpp" "#include \"embedded/${NAME}.h\"\n\nnamespace embedded {\nnamespace {\n${arrays}}  // namespace\n\n"
    "std::vector<File> ${NAME}() {\n  return {\n${entries}  };\n}\n\n}  // namespace embedded\n")
  return()
endif()

set(fw_embed_script "${CMAKE_CURRENT_LIST_FILE}")

function(fw_embed target name)
  set(folder "${CMAKE_BINARY_DIR}/embedded_${name}")
  file(MAKE_DIRECTORY "${folder}/embedded")
  file(CONFIGURE OUTPUT "${folder}/embedded/file.h" @ONLY CONTENT
"#pragma once

#include <string_view>

namespace embedded {

struct File {
  std::string_view name;   ///< bare, with its ending
  std::string_view bytes;  ///< lives as long as the program
};

}  // namespace embedded
")
  file(CONFIGURE OUTPUT "${folder}/embedded/${name}.h" @ONLY CONTENT
"#pragma once

#include <vector>

#include \"embedded/file.h\"

namespace embedded {

std::vector<File> ${name}();

}  // namespace embedded
")
  add_custom_command(OUTPUT "${folder}/embedded/${name}.cpp"
    COMMAND ${CMAKE_COMMAND} "-DFILES=${ARGN}" -DNAME=${name} "-DOUTPUT=${folder}/embedded/${name}" -P "${fw_embed_script}"
    DEPENDS ${ARGN} "${fw_embed_script}" VERBATIM)
  target_sources(${target} PRIVATE "${folder}/embedded/${name}.cpp")
  target_include_directories(${target} PRIVATE "${folder}")
endfunction()
