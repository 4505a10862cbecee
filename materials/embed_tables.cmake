# Writes the TOML tables of materials/data into one .cpp file, so that the program is one file.
# Called with -DOUTPUT=file -DFOLDER=materials/data.
#
# The text goes in as hexadecimal bytes: CMake would otherwise treat ';' and '[' in it as list
# syntax, and compilers limit the length of a string literal.
file(GLOB tables ${FOLDER}/*.toml)
list(SORT tables)
set(arrays "")
set(entries "")
foreach(table IN LISTS tables)
  get_filename_component(name ${table} NAME)
  get_filename_component(stem ${table} NAME_WE)
  file(READ ${table} bytes HEX)
  string(REGEX REPLACE "(................................)" "\\1\n    " bytes "${bytes}")
  string(REGEX REPLACE "([0-9a-f][0-9a-f])" "'\\\\x\\1'," bytes "${bytes}")
  string(APPEND arrays "constexpr char ${stem}_text[] = {\n    ${bytes}'\\0'};\n\n")
  string(APPEND entries
    "        {\"${name}\", std::string_view(${stem}_text, sizeof ${stem}_text - 1)},\n")
endforeach()
file(WRITE ${OUTPUT} "#include \"materials/embedded_tables.hpp\"

namespace standfast {
namespace {

${arrays}}  // namespace

const std::vector<EmbeddedTable>& embedded_tables() {
    static const std::vector<EmbeddedTable> tables{
${entries}    };
    return tables;
}

}  // namespace standfast
")
