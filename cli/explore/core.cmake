# The computing core as WebAssembly, by em++ in a build folder of its own. It takes minutes, so that
# a usual build goes without; the package has it wherever em++ is there.
#   standfast_explore_core           what the program is linked with: STANDFAST_EXPLORE decides
#   standfast_explore_core_packaged  with the core, where em++ is there
find_program(STANDFAST_EMXX em++)
find_program(STANDFAST_GZIP gzip)
find_program(STANDFAST_BASE64 base64)
# Where em++ finds the scripts that it links with.
find_path(STANDFAST_NODE_MODULES acorn PATHS /usr/share/nodejs /usr/lib/nodejs NO_DEFAULT_PATH)

set(explore_core "")
if(STANDFAST_EMXX AND STANDFAST_GZIP AND STANDFAST_BASE64)
  set(explore_folder ${PROJECT_BINARY_DIR}/explore)
  set(explore_wasm ${explore_folder}/standfast_explore.wasm)
  set(explore_core ${explore_folder}/core.base64)
  get_target_property(eigen_folder Eigen3::Eigen INTERFACE_INCLUDE_DIRECTORIES)
  get_target_property(fmt_folder fmt::fmt INTERFACE_INCLUDE_DIRECTORIES)
  get_target_property(json_folder nlohmann_json::nlohmann_json INTERFACE_INCLUDE_DIRECTORIES)
  list(GET fmt_folder 0 fmt_folder)
  list(GET json_folder 0 json_folder)
  # Its own build knows which file follows from which; this one only when to look.
  file(GLOB_RECURSE explore_sources CONFIGURE_DEPENDS
    ${PROJECT_SOURCE_DIR}/materials/*.[ch]pp ${PROJECT_SOURCE_DIR}/fea/*.[ch]pp
    ${PROJECT_SOURCE_DIR}/cli/explore/answers/*.[ch]pp ${PROJECT_SOURCE_DIR}/cli/page/*.[ch]pp
    ${PROJECT_SOURCE_DIR}/cli/report/check/*.[ch]pp ${PROJECT_SOURCE_DIR}/cli/report/common/*.[ch]pp)
  add_custom_command(
    OUTPUT ${explore_core}
    COMMAND ${CMAKE_COMMAND} -S ${PROJECT_SOURCE_DIR}/cli/explore/web -B ${explore_folder}
            -DCMAKE_CXX_COMPILER=${STANDFAST_EMXX} -DCMAKE_SYSTEM_NAME=Generic
            -DCMAKE_CXX_COMPILER_WORKS=ON
            "-DHEADERS=${eigen_folder}/Eigen\\;${SPECTRA_INCLUDE_DIR}/Spectra\\;${fmt_folder}/fmt\\;${json_folder}/nlohmann"
    COMMAND ${CMAKE_COMMAND} -E env NODE_PATH=${STANDFAST_NODE_MODULES}
            ${CMAKE_COMMAND} --build ${explore_folder}
    COMMAND sh -c "'${STANDFAST_GZIP}' -9 -n -c '${explore_wasm}' | '${STANDFAST_BASE64}' -w 76 >'${explore_core}'"
    DEPENDS ${explore_sources} ${PROJECT_SOURCE_DIR}/cli/explore/web/CMakeLists.txt
    VERBATIM)
elseif(STANDFAST_EXPLORE)
  message(FATAL_ERROR "STANDFAST_EXPLORE needs em++ (emscripten), gzip and base64")
endif()

# standfast_explore_core_of(NAME CORE): the library that holds this core, or none.
function(standfast_explore_core_of name core)
  set(source ${PROJECT_BINARY_DIR}/generated/${name}.cpp)
  add_custom_command(
    OUTPUT ${source}
    COMMAND ${CMAKE_COMMAND} -DOUTPUT=${source} -DCORE=${core}
            -P ${PROJECT_SOURCE_DIR}/cli/explore/embed_core.cmake
    DEPENDS ${core} ${PROJECT_SOURCE_DIR}/cli/explore/embed_core.cmake
    VERBATIM)
  add_library(${name} STATIC ${source})
  standfast_finish_target(${name})
endfunction()

# The tests compare it with the program where it is part of the build.
set(STANDFAST_EXPLORE_CORE "" CACHE INTERNAL "")
if(STANDFAST_EXPLORE)
  standfast_explore_core_of(standfast_explore_core ${explore_core})
  set(STANDFAST_EXPLORE_CORE ${explore_wasm} CACHE INTERNAL "")
else()
  standfast_explore_core_of(standfast_explore_core "")
  if(explore_core)
    standfast_explore_core_of(standfast_explore_core_packaged ${explore_core})
    set_target_properties(standfast_explore_core_packaged PROPERTIES EXCLUDE_FROM_ALL ON)
  endif()
endif()
