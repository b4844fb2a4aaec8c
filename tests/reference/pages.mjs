// Opens the pages that the harness writes in Chromium, as a reader would: on screens (light, dark, phone), on paper
// (A4, Letter), without network and without scripts. Accessibility is judged by axe-core, printed text is read back
// with pdfjs.
//
// By itself, to look at what it sees: node pages.mjs PATH/TO/pawnvane-bench FOLDER
// leaves pages, screenshots and PDFs in FOLDER. The environment variable CHROMIUM names another browser.
import { execFileSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { dirname, join, resolve } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { getDocument } from 'pdfjs-dist/legacy/build/pdf.mjs';
import { chromium } from 'playwright-core';
import { allGood, check, closing } from './tally.mjs';

const root = resolve(dirname(fileURLToPath(import.meta.url)), '../..');
const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
const positions = join(root, 'bench/positions/scenario.epd');
const suite = join(root, 'bench/positions/structures.epd');
const games = join(root, 'bench/games/club-match.pgn');
const strong = join(root, 'bench/games/masters-500.pgn');
const openings = join(root, 'bench/openings/strata.epd');

const lines = (file) => readFileSync(file, 'utf8').split('\n').filter((line) => line && !line.startsWith('#'));

// What is made, with which command, after which others, and what a reader must find on it.
const pages = [
    {
        name: 'positions',
        command: () => ['handout', positions, '--nodes', '2000', '--title', 'Levers & <locks>', '--findings'],
        finds: ['Levers & <locks>', 'How it is misread', 'For study', 'What was found of the rule'],
        saves: 'lesson.pgn',
    },
    {
        name: 'pupils',
        command: () => ['handout', positions, '--nodes', '2000', '--pupils', '--flip'],
        finds: ['For each position', 'Answers'],
        ownSheet: 'Answers',
    },
    {
        name: 'paper',
        before: (folder) => {
            writeFileSync(join(folder, 'thirteen.epd'), lines(suite).slice(0, 13).join('\n'));
            return [];
        },
        command: (folder) => ['handout', join(folder, 'thirteen.epd'), '--nodes', '1000', '--pupils', '--short',
            '--per-page', '4', '--hide-names'],
        finds: ['Answers', 'How to read this sheet'],
        ownSheet: 'Answers',
        mostSheets: 8,
        tasksOnSheet: 4,
    },
    {
        name: 'stories',
        command: () => ['handout', games, '--game', '4', '--nodes', '2000'],
        finds: ['The levers of this game'],
    },
    {
        name: 'quiz',
        before: (folder) => {
            writeFileSync(join(folder, 'quiz.epd'), lines(suite).filter((line, i) => i % 12 === 3).join('\n'));
            return [];
        },
        command: (folder) => ['handout', positions, join(folder, 'quiz.epd'), '--nodes', '1000', '--quiz', '--title', 'For Thursday'],
        finds: ['For Thursday', 'The answer'],
        quiz: true,
    },
    {
        name: 'census',
        command: () => ['census', games],
        finds: ['observation'],
        foot: 'Census of locked pawn chains',
        leads: 'a[href^="#games-"]',
    },
    {
        name: 'forecast',
        command: () => ['forecast', games, strong, suite, '--nodes', '200', '--plies', '6', '--price', '1000', '--playouts', '10',
            '--playout-nodes', '100'],
        finds: ['The direction misleads', 'Where the first lever came', 'does not show that they should have', 'What a lever costs',
            'one witness and not two'],
    },
    {
        name: 'report',
        before: (folder) => {
            const run = (weights, rule, name) => ['duel', '--store', join(folder, name), '--openings', openings,
                '--weight', weights, '--rule', rule, '--nodes', '200', '--pairs', '60', '--quiet'];
            return [
                { command: run('100:0', 'strict', 'strict.db') },
                { command: run('100:0', 'loose', 'loose.db') },
                { command: run('200:0', 'strict', 'double.db') },
                { command: ['contrast', suite, '--nodes', '2000', '--json'], output: 'contrast.json' },
            ];
        },
        command: (folder) => ['report', ...['strict.db', 'loose.db', 'double.db', 'contrast.json'].map((name) => join(folder, name))],
        finds: ['What misapplying the rule costs', 'Dose and response', 'The most instructive positions'],
    },
];

// Each width and each scheme; colours do not depend on the width, but for cards.
const screens = [['light', 1280], ['dark', 390]];
const phones = [390, 360];

function make(bench, folder, page) {
    const path = join(folder, `${page.name}.html`);
    for (const { command, output } of page.before?.(folder) ?? []) {
        const text = execFileSync(bench, command, { stdio: ['ignore', 'pipe', 'inherit'] });
        if (output) writeFileSync(join(folder, output), text);
    }
    execFileSync(bench, [...page.command(folder), '--html', path], { stdio: ['ignore', 'pipe', 'inherit'] });
    return path;
}

// Nothing but the page itself may be asked for.
async function open(browser, path, options) {
    const context = await browser.newContext(options);
    const page = await context.newPage();
    const url = pathToFileURL(path).href;
    const asked = [];
    page.on('request', (request) => asked.push(request.url()));
    await page.goto(url, { waitUntil: 'load' });
    check(asked.length === 1 && asked[0] === url, () => `${path} asks for ${asked}`);
    return { context, page };
}

async function checkAccess(page, where) {
    const { violations } = await page.evaluate(() => axe.run(document, { resultTypes: ['violations'] }));
    check(violations.length === 0, () =>
        violations.map((v) => `${where}: ${v.id}: ${v.help}: ${v.nodes[0].html.slice(0, 200)}`).join('\n'));
}

async function checkScreen(browser, path, colorScheme, width, quiz, keep) {
    // Scripts are on only because axe is one; the page itself must have none, unless it is a quiz.
    const { context, page } = await open(browser, path, { colorScheme, viewport: { width, height: 900 } });
    const where = `${path}, ${colorScheme}, ${width} wide`;
    check((await page.locator('script').count()) === (quiz ? 1 : 0), () => `${where}: a script`);
    await page.evaluate(axe);
    await checkAccess(page, where);
    if (keep) await page.screenshot({ path: path.replace('.html', `-${colorScheme}-${width}.png`), fullPage: true });
    const phone = phones.includes(width);
    for (const size of phone ? phones : [width]) {
        await page.setViewportSize({ width: size, height: 900 });
        const cut = await page.evaluate((boxes) => [...document.querySelectorAll(boxes)]
            .filter((box) => box.scrollWidth > box.clientWidth)
            .map((box) => `${box.ariaLabel ?? 'the page'} by ${box.scrollWidth - box.clientWidth} pixels`),
        phone ? 'html, .scroll' : 'html');
        check(cut.length === 0, () => `${path}, ${size} wide: to be pushed sideways: ${cut.join('; ')}`);
    }
    await context.close();
}

async function checkText(browser, path, finds) {
    const { context, page } = await open(browser, path, { javaScriptEnabled: false });
    const text = await page.locator('body').innerText();
    for (const part of finds) check(text.includes(part), () => `${path} does not say "${part}"`);
    await context.close();
}

// Every picture has a name and a description, a size, and all its men on it.
async function checkPictures(browser, path, quiz) {
    const { context, page } = await open(browser, path, { javaScriptEnabled: !quiz });
    if (quiz) for (const answer of await page.locator('summary').all()) await answer.click();
    const pictures = await page.locator('svg[role=img]').all();
    check(pictures.length > 0, () => `${path} has no picture`);
    for (const picture of pictures) {
        const { title, words, width, inside } = await picture.evaluate((svg) => {
            const outer = svg.getBoundingClientRect();
            const text = (name) => document.getElementById(svg.getAttribute(name))?.textContent ?? '';
            const isInside = (man) => {
                const inner = man.getBoundingClientRect();
                return inner.width > 0 && inner.left >= outer.left && inner.right <= outer.right &&
                    inner.top >= outer.top && inner.bottom <= outer.bottom;
            };
            return {
                title: text('aria-labelledby'),
                words: text('aria-describedby'),
                width: outer.width,
                inside: [...svg.querySelectorAll('use')].every(isInside),
            };
        });
        check(title.length > 5 && words.length > 20, () => `${path}: a picture without words`);
        check(width > 200, () => `${path}: a picture of ${width} pixels`);
        check(inside, () => `${path}: a man beside the board`);
    }
    await context.close();
}

// The page holds a file to be saved, and a FEN that one click takes whole.
async function checkTaking(browser, path, name) {
    const { context, page } = await open(browser, path, { acceptDownloads: true });
    const [saved] = await Promise.all([page.waitForEvent('download'), page.click('a[download]')]);
    check(saved.suggestedFilename() === name, () => `${path} saves ${saved.suggestedFilename()}`);
    const text = readFileSync(await saved.path(), 'utf8');
    check(text.startsWith('[Event "'), () => `${path} saves no PGN: ${text.slice(0, 60)}`);
    await page.locator('code').first().click();
    const selected = await page.evaluate(() => String(getSelection()));
    check(/^([1-8a-zA-Z]+\/){7}\S+ [wb] \S+ \S+ \d+ \d+$/.test(selected), () => `${path}: a click takes "${selected}"`);
    await context.close();
}

// A link opens what is folded away, and shows a position there.
async function checkLeading(browser, path, selector) {
    const { context, page } = await open(browser, path, { javaScriptEnabled: false });
    const link = page.locator(selector).first();
    const target = page.locator(`[id="${(await link.getAttribute('href')).slice(1)}"]`);
    check(!(await target.isVisible()), () => `${path}: ${selector} leads to what is seen already`);
    await link.click();
    check(await target.locator('code').first().isVisible(), () => `${path}: ${selector} opens nothing`);
    await context.close();
}

// Goes through the first round and answers each question by answer(data, isLever): of a wing its name, of a lever a
// square or null. Returns what the page says at the end.
async function play(page, where, answer, choose) {
    const total = await page.locator('.quiz').count();
    let asked = 0, right = 0;
    for (let i = 0; i < total; i++) {
        const item = page.locator('.quiz:not([hidden])');
        check((await item.count()) === 1, () => `${where}: not one position at a time`);
        check((await page.locator('#count').innerText()).startsWith(`Position ${i + 1} of ${total}.`), () => `${where}: no count`);
        const data = await item.evaluate((element) => ({ ...element.dataset }));
        for (const isLever of data.lever ? [false, true] : [false]) {
            const { value, good } = answer(data, isLever);
            await choose(page, value, isLever);
            asked += 1;
            right += good ? 1 : 0;
            const told = await page.locator('.told').last().innerText();
            check(told.startsWith('Right. ') === good && told.length > 40, () => `${where}: after ${value}: "${told}"`);
        }
        check((await page.locator('#count').innerText()).includes(`Right so far: ${right} of ${asked} answer`),
            () => `${where}: counts otherwise`);
        check(await item.locator('.lead').isVisible(), () => `${where}: does not explain`);
        if (i === 0) await checkAccess(page, `${where}, answer ${i + 1}`);
        check(await page.locator('.next').evaluate((next) => next === document.activeElement), () => `${where}: Next has no focus`);
        await page.keyboard.press('Enter');
    }
    await checkAccess(page, `${where}, the end`);
    return { text: await page.locator('#done').innerText(), asked, right };
}

async function point(page, value, isLever) {
    if (!isLever) await page.getByRole('button', { name: new RegExp(`^${value}$`, 'i') }).tap();
    else if (value) await page.getByRole('button', { name: new RegExp(`^${value}(,|$)`) }).tap();
    else await page.getByRole('button', { name: 'cannot be played' }).tap();
}

// The tabulator key goes to a wing, and to the board; there the arrow keys go to the square.
async function type(page, value, isLever) {
    const name = () => page.evaluate(() => document.activeElement.ariaLabel ?? document.activeElement.textContent);
    const at = async () => (await name()).slice(0, 2);
    if (isLever && value) {
        for (let i = 0; i < 8 && (await at())[0] !== value[0]; i++) await page.keyboard.press('ArrowRight');
        for (let i = 0; i < 8 && (await at())[1] !== value[1]; i++) await page.keyboard.press('ArrowUp');
    } else {
        const wanted = isLever ? 'That pawn move cannot be played' : value;
        for (let i = 0; i < 12 && (await name()).toLowerCase() !== wanted.toLowerCase(); i++) await page.keyboard.press('Tab');
    }
    await page.keyboard.press('Enter');
}

// By touch on a phone everything right; by keyboard everything wrong, and then those missed once more.
async function checkQuiz(browser, path) {
    const truth = ({ wing, pawn, lever }, isLever) => ({ value: isLever ? (pawn ? lever : null) : wing, good: true });
    const phone = await open(browser, path, { hasTouch: true, viewport: { width: 390, height: 844 }, offline: true });
    await phone.page.evaluate(axe);
    const best = await play(phone.page, `${path}, by touch`, truth, point);
    check(best.text.includes(`${best.asked} of ${best.asked} answers right`) && best.text.includes('Nothing was missed'),
        () => `${path}: at the end ${best.text}`);
    check((await phone.page.locator('.quiz[data-lever]').count()) > 3 && (await phone.page.locator('.quiz[data-wing=nowhere]').count()) > 0 &&
        (await phone.page.locator('.quiz[data-lever]:not([data-pawn])').count()) > 0, () => `${path}: not all kinds of questions`);
    await phone.context.close();

    const other = { queenside: 'kingside', kingside: 'queenside', centre: 'nowhere', nowhere: 'centre' };
    const error = ({ wing, pawn }, isLever) => ({ value: isLever ? (pawn ? null : 'a1') : other[wing], good: false });
    const desk = await open(browser, path, { colorScheme: 'dark', viewport: { width: 1280, height: 800 } });
    await desk.page.evaluate(axe);
    const worst = await play(desk.page, `${path}, by keyboard`, error, type);
    check(worst.text.includes(`0 of ${worst.asked} answers right`), () => `${path}: at the end ${worst.text}`);
    check((await desk.page.locator('#done li').count()) === (await desk.page.locator('.quiz').count()), () => `${path}: not all are missed`);
    await desk.page.getByRole('button', { name: 'Only those' }).click();
    await type(desk.page, await desk.page.locator('.quiz:not([hidden])').getAttribute('data-wing'), false);
    check((await desk.page.locator('.told').innerText()).startsWith('Right. '), () => `${path}: not right the second time`);
    await desk.context.close();
}

async function readPdf(bytes) {
    const task = getDocument({ data: new Uint8Array(bytes), verbosity: 0 });
    const pdf = await task.promise;
    const sheets = [];
    for (let i = 1; i <= pdf.numPages; i++) {
        const sheet = await pdf.getPage(i);
        const [, , width] = sheet.view;
        const { items } = await sheet.getTextContent();
        const words = items.filter((item) => item.str.trim() !== '');
        sheets.push({
            text: words.map((item) => item.str).join(' '),
            inside: words.every((item) => item.transform[4] >= 0 && item.transform[4] + item.width <= width),
            first: [...words].sort((a, b) => b.transform[5] - a.transform[5])[0]?.str ?? '',
        });
    }
    await task.destroy();
    return sheets;
}

async function checkPaper(browser, path, format, { ownSheet, mostSheets = 1000, tasksOnSheet, foot = 'Not for use during a game.' }) {
    const { context, page } = await open(browser, path, {});
    const bytes = await page.pdf({ format, path: path.replace('.html', `-${format}.pdf`), preferCSSPageSize: true });
    await context.close();
    const where = `${path} on ${format}`;
    const sheets = await readPdf(bytes);
    sheets.forEach((sheet, i) => {
        check(sheet.inside, () => `${where}: text beside sheet ${i + 1}`);
        check(sheet.text.includes(foot), () => `${where}: no foot on sheet ${i + 1}`);
        check(sheet.text.length > 60, () => `${where}: sheet ${i + 1} is empty`);
    });
    check(sheets.length <= mostSheets, () => `${where}: ${sheets.length} sheets, expected ${mostSheets} at most`);
    // A heading, its diagram and its answer are on one sheet: the headings of a sheet are that many.
    if (tasksOnSheet)
        sheets.slice(0, -1).forEach((sheet, i) => {
            const headings = [...sheet.text.matchAll(/\b(\d+)\. (White|Black) to move/g)].length;
            check(headings === tasksOnSheet || (i === 3 && headings === 1), () => `${where}: ${headings} on sheet ${i + 1}`);
        });
    if (ownSheet)
        check(sheets.filter((sheet) => sheet.first.startsWith(ownSheet)).length === 1,
            () => `${where}: "${ownSheet}" does not begin a sheet`);
}

async function readPage(browser, path, page, keep) {
    for (const [colorScheme, width] of screens) await checkScreen(browser, path, colorScheme, width, page.quiz, keep);
    await checkText(browser, path, page.finds);
    await checkPictures(browser, path, page.quiz);
    if (page.leads) await checkLeading(browser, path, page.leads);
    if (page.quiz) await checkQuiz(browser, path);
    if (page.saves) await checkTaking(browser, path, page.saves);
    for (const format of ['A4', 'Letter']) await checkPaper(browser, path, format, page);
}

export async function readPages(bench, keep) {
    const folder = keep ?? mkdtempSync(join(tmpdir(), 'pawnvane-pages-'));
    mkdirSync(folder, { recursive: true });
    const browser = await chromium.launch({
        executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
        args: ['--no-sandbox', '--disable-gpu', '--disable-background-networking', '--disable-component-update'],
    });
    // Two readers, each of whom takes the next page: one waits for the browser while the other reads.
    const waiting = [...pages];
    const reader = async () => {
        for (let page; (page = waiting.shift());) await readPage(browser, make(bench, folder, page), page, keep);
    };
    try {
        await Promise.all([reader(), reader()]);
    } finally {
        await browser.close();
        if (!keep) rmSync(folder, { recursive: true });
    }
    return `pages: ${pages.map((page) => page.name).join(', ')} read in Chromium`;
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
    console.log(await readPages(resolve(process.argv[2]), resolve(process.argv[3])));
    console.log(closing());
    process.exit(allGood() ? 0 : 1);
}
