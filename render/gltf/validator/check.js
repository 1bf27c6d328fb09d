// Prints what the Khronos glTF validator finds in the file named on the command line, as JSON.
const fs = require("fs");
const validator = require("gltf-validator");
validator.validateBytes(new Uint8Array(fs.readFileSync(process.argv[2]))).then((r) => {
  const { numErrors, numWarnings, numInfos, messages } = r.issues;
  const { drawCallCount, totalVertexCount, totalTriangleCount, materialCount } = r.info;
  console.log(JSON.stringify({ numErrors, numWarnings, numInfos, messages, drawCallCount, totalVertexCount, totalTriangleCount, materialCount }));
}, (e) => { console.error(e); process.exit(1); });
