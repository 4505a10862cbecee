# Writes the scripts and the style of the page of --explore into one .cpp file.
# Called with -DOUTPUT=file -DFOLDER=cli/explore.
include(${FOLDER}/../page/array_of.cmake)

array_of(script kScript ${FOLDER}/explore.js)
array_of(core_script kCoreScript ${FOLDER}/core.js)
array_of(worker_script kWorkerScript ${FOLDER}/worker.js)
array_of(style kStyle ${FOLDER}/explore.css)
file(WRITE ${OUTPUT} "#include \"cli/explore/explore_assets.hpp\"

namespace standfast {
namespace {

${script}${core_script}${worker_script}${style}}  // namespace

const ExploreAssets& explore_assets() {
    static const ExploreAssets assets{
        .script = {kScript, sizeof kScript - 1},
        .core_script = {kCoreScript, sizeof kCoreScript - 1},
        .worker_script = {kWorkerScript, sizeof kWorkerScript - 1},
        .style = {kStyle, sizeof kStyle - 1}};
    return assets;
}

}  // namespace standfast
")
