# Writes the core as WebAssembly (gzip, in base64: text of short lines) into a .cpp file.
# Called with -DOUTPUT=file -DCORE=file; no CORE: the program then says at --explore that it has none.
set(lines "\"\"")
if(CORE)
  file(READ ${CORE} text)
  string(REGEX REPLACE "([A-Za-z0-9+/=]+)\n" "    \"\\1\"\n" lines "${text}")
endif()
file(WRITE ${OUTPUT} "#include \"cli/explore/explore_assets.hpp\"

namespace standfast {

std::string_view explore_core() {
    static constexpr char core[] =
${lines};
    return {core, sizeof core - 1};
}

}  // namespace standfast
")
