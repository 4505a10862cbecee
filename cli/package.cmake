# The .deb that `cmake --build build --target package_deb` makes: the program, its manual page, its
# completions, what Debian asks for beside them.
find_program(STANDFAST_GZIP gzip)
string(TIMESTAMP package_date "%Y-%m-%d" UTC)
string(TIMESTAMP package_time "%a, %d %b %Y %H:%M:%S +0000" UTC)
set(page_folder ${PROJECT_BINARY_DIR}/generated/pages)
set(page_files ${page_folder}/standfast.1 ${page_folder}/standfast.bash ${page_folder}/_standfast
  ${page_folder}/standfast.fish)
add_custom_command(
  OUTPUT ${page_files}
  COMMAND standfast_write_pages ${page_folder} ${PROJECT_VERSION} ${package_date}
  VERBATIM)
add_custom_target(standfast_pages DEPENDS ${page_files})

file(WRITE ${page_folder}/changelog.in "standfast (${PROJECT_VERSION}) unstable; urgency=low

  * Packaged from its source tree.

 -- Standfast contributors <standfast@example.com>  ${package_time}
")
set(copyright "Format: https://www.debian.org/doc/packaging-manuals/copyright-format/1.0/
Upstream-Name: standfast

Files: *
Copyright: the contributors of standfast
License: as-in-source
 The terms are those of the source tree that this package was built from.
")
if(chart_licence)
  file(READ ${chart_licence} chart_terms)
  string(APPEND copyright "\nComment:\n Chart.js is compiled in, under these terms:\n .\n")
  string(REGEX REPLACE "\n\n+" "\n.\n" chart_terms "${chart_terms}")
  string(REGEX REPLACE "\n" "\n " chart_terms " ${chart_terms}")
  string(STRIP "${chart_terms}" chart_terms)
  string(APPEND copyright " ${chart_terms}\n")
endif()
file(WRITE ${page_folder}/copyright "${copyright}")

if(STANDFAST_GZIP)
  add_custom_command(
    OUTPUT ${page_folder}/standfast.1.gz ${page_folder}/changelog.gz
    COMMAND ${STANDFAST_GZIP} -9 -n -k -f ${page_folder}/standfast.1
    COMMAND ${CMAKE_COMMAND} -E copy ${page_folder}/changelog.in ${page_folder}/changelog
    COMMAND ${STANDFAST_GZIP} -9 -n -f ${page_folder}/changelog
    DEPENDS ${page_folder}/standfast.1
    VERBATIM)
  add_custom_target(standfast_package_files
    DEPENDS ${page_files} ${page_folder}/standfast.1.gz ${page_folder}/changelog.gz)
  # Part of the package only: a plain install stays one executable.
  install(FILES ${page_folder}/standfast.1.gz DESTINATION share/man/man1
    COMPONENT package EXCLUDE_FROM_ALL)
  install(FILES ${page_folder}/changelog.gz ${page_folder}/copyright DESTINATION share/doc/standfast
    COMPONENT package EXCLUDE_FROM_ALL)
  install(FILES ${page_folder}/standfast.bash RENAME standfast
    DESTINATION share/bash-completion/completions COMPONENT package EXCLUDE_FROM_ALL)
  install(FILES ${page_folder}/_standfast DESTINATION share/zsh/vendor-completions
    COMPONENT package EXCLUDE_FROM_ALL)
  install(FILES ${page_folder}/standfast.fish DESTINATION share/fish/vendor_completions.d
    COMPONENT package EXCLUDE_FROM_ALL)
  install(PROGRAMS $<TARGET_FILE:${packaged_program}> RENAME standfast DESTINATION bin
    COMPONENT package EXCLUDE_FROM_ALL)

  set(CPACK_GENERATOR DEB)
  set(CPACK_PACKAGE_NAME standfast)
  set(CPACK_PACKAGE_CONTACT "Standfast contributors <standfast@example.com>")
  set(CPACK_PACKAGE_DESCRIPTION_SUMMARY "rigidity of fixture stacks and long cutters before the cut")
  set(CPACK_DEBIAN_PACKAGE_DESCRIPTION
    "Tells from a job file whether a tall fixtured stack and a long cutter are
 rigid enough: push-off, chatter over the spindle speed, holding of every
 joint, and which change helps most. Works without a network.")
  set(CPACK_PACKAGING_INSTALL_PREFIX /usr)
  set(CPACK_STRIP_FILES ON)
  set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
  set(CPACK_DEBIAN_PACKAGE_SECTION science)
  set(CPACK_DEBIAN_PACKAGE_SHLIBDEPS ON)
  set(CPACK_DEB_COMPONENT_INSTALL ON)
  set(CPACK_DEBIAN_PACKAGE_PACKAGE_NAME standfast)
  set(CPACK_COMPONENTS_ALL package)
  set(CPACK_COMPONENTS_GROUPING ALL_COMPONENTS_IN_ONE)
  include(CPack)
  add_custom_target(package_deb
    COMMAND ${CMAKE_CPACK_COMMAND} -G DEB
    DEPENDS ${packaged_program} standfast_package_files
    WORKING_DIRECTORY ${PROJECT_BINARY_DIR}
    VERBATIM)
endif()
