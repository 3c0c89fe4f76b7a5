// Examples that run from the page, and the search. Without it the pages read the same.
import { findAsTyped } from "/docs/files/search.js";
import { runExamples } from "/docs/files/run.js";

runExamples();
findAsTyped();
