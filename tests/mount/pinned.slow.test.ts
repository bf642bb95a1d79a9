import { checkPins } from "./pinned.js";

checkPins((i) => i % 5 !== 0, 48);
