/**
 * The version of the library, as in package.json.
 * @module
 */
export const version = "0.1.0";
