import { checkPins } from "./pinned.js";

checkPins((i) => i % 10 !== 0, 54);
