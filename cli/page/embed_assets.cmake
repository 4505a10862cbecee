# Writes the files that the report page carries into one .cpp file, so that the program is one file.
# Called with -DOUTPUT=file -DFOLDER=cli/page -DCHART=chart.min.js -DLICENCE=copyright; both of the
# last may be empty: the program then says at --report that it was built without Chart.js.
include(${CMAKE_CURRENT_LIST_DIR}/array_of.cmake)

array_of(chart kChart "${CHART}")
array_of(licence kLicence "${LICENCE}")
array_of(script kScript ${FOLDER}/page.js)
array_of(style kStyle ${FOLDER}/page.css)
file(WRITE ${OUTPUT} "#include \"cli/page/assets.hpp\"

namespace standfast {
namespace {

${chart}${licence}${script}${style}}  // namespace

const PageAssets& page_assets() {
    static const PageAssets assets{
        .chart_script = {kChart, sizeof kChart - 1},
        .chart_licence = {kLicence, sizeof kLicence - 1},
        .script = {kScript, sizeof kScript - 1},
        .style = {kStyle, sizeof kStyle - 1}};
    return assets;
}

}  // namespace standfast
")
