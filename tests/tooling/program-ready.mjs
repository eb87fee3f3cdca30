/** Before the tests that start the program: it is made of what stands in `src` now. */
import { makeProgram } from './ready.mjs';

export default makeProgram;
