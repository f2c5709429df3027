// What the npm package `fold` makes of a FOLD file, as JSON. Arguments: the package, the file, the face that stays.
const FOLD = require(process.argv[2]);
const fold = JSON.parse(require("fs").readFileSync(process.argv[3], "utf8"));
const sorted = (edge) => [...edge].sort((a, b) => a - b).join();
const made = FOLD.convert.deepCopy(fold);
delete made.edges_vertices;
delete made.edges_assignment;
FOLD.convert.faces_vertices_to_edges(made);
const known = new Set(fold.edges_vertices.map(sorted));
const answer = {
  vertices: FOLD.filter.numVertices(fold),
  edges: FOLD.filter.numEdges(fold),
  faces: FOLD.filter.numFaces(fold),
  valleys: FOLD.filter.valleyEdges(fold).length,
  mountains: FOLD.filter.mountainEdges(fold).length,
  borders: FOLD.filter.boundaryEdges(fold).length,
  missing: made.edges_vertices.filter((edge) => !known.has(sorted(edge))).length,
  shared: made.edges_faces.filter((faces) => faces.filter((face) => face !== null && face >= 0).length === 2).length,
  orientations: fold.faces_vertices.map((face) =>
    FOLD.geom.polygonOrientation(face.map((vertex) => fold.vertices_coords[vertex]))),
};
if (fold.edges_foldAngle.every((angle) => angle === 0 || Math.abs(angle) === 180)) {
  // Paper folded flat on itself: the package mirrors face after face.
  answer.torn = FOLD.convert.flatFoldedGeometry(made, Number(process.argv[4]));
  answer.flat = made.vertices_flatFoldCoords;
}
console.log(JSON.stringify(answer));
