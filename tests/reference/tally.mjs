// Counts what agreed and shows the first things that did not.
const SHOWN = 10;
let passed = 0;
let failed = 0;

export function check(good, describe) {
    if (good) {
        passed++;
        return;
    }
    failed++;
    if (failed <= SHOWN) console.error(`FAILED: ${describe()}`);
}

export function failures() {
    return failed;
}

export function closing() {
    return `${passed} passed, ${failed} failed`;
}

export function allGood() {
    return passed > 0 && failed === 0;
}
