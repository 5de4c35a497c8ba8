// Reads a JSON list of Mermaid texts; prints for each what Mermaid's own parser found in it, or its error.
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { pathToFileURL } from "node:url";

const modules = process.argv[2];
const load = (...path) => import(pathToFileURL(join(modules, ...path)).href);
const { JSDOM } = await load("jsdom", "lib", "api.js");
const page = new JSDOM("<!DOCTYPE html><body></body>");
globalThis.window = page.window;
globalThis.document = page.window.document;
const { default: mermaid } = await load("mermaid", "dist", "mermaid.core.mjs");

const found = [];
for (const text of JSON.parse(readFileSync(0, "utf8"))) {
  try {
    await mermaid.parse(text);
    const { db } = await mermaid.mermaidAPI.getDiagramFromText(text);
    found.push({
      boxes: [...db.getVertices().values()].map((each) => each.text),
      arrows: db.getEdges().map((each) => [each.start, each.end, each.text]),
      frames: db.getSubGraphs().map((each) => [each.title, each.nodes]),
    });
  } catch (error) {
    found.push({ error: String(error) });
  }
}
console.log(JSON.stringify(found));
