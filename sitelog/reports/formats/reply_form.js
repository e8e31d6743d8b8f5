"use strict";
// The form of a brief: what was answered becomes one short text, to save or to paste. It asks nothing of any network.
// What counts of a text, and the sum over it, are those of sitelog/job/replies/plain.py: a test holds the two together.

const SPACE = "\\x00-\\x20\\x7f-\\xa0\\xad\\u1680\\u180e\\u2000-\\u200f\\u2028-\\u202f\\u205f-\\u206f\\u3000\\ufe00-\\ufe0f\\ufeff";
const MARKS = "\"'*\\\\_`~\\xab\\xb4\\xbb\\u2018-\\u201f\\u2032-\\u2037\\u2039\\u203a";
const DASH = "\\u2010-\\u2015\\u2212\\ufe58\\ufe63\\uff0d";
const SPACES = new RegExp("[" + SPACE + "]+", "g");
const UNCOUNTED = new RegExp("[" + SPACE + MARKS + "]+", "g");
const DASHES = new RegExp("[-" + DASH + "]+", "g");
const START = "sitelog reply";

function oneLine(text) {
  const told = text.normalize("NFC").replace(/\[/g, "(").replace(/\]/g, ")");
  return told.replace(SPACES, " ").replace(/^ | $/g, "");
}

function counted(text) {
  return text.normalize("NFC").replace(UNCOUNTED, "").replace(/\u2026/g, "...").replace(DASHES, "-");
}

function sumOf(fields) {
  return sha256(utf8(fields.map(counted).join("\n"))).slice(0, 16);
}

function inRanges(numbers) {
  const runs = [];
  for (const number of numbers) {
    const run = runs[runs.length - 1];
    if (run && number === run[1] + 1) run[1] = number;
    else runs.push([number, number]);
  }
  return runs.map(([first, last]) => (first === last ? `${first}` : `${first}-${last}`)).join(", ");
}

// `reply` has the names of the fields; accepted is a list of numbers, back one of [number, why].
function replyText(reply) {
  const fields = [
    `job ${reply.job}`,
    `title ${oneLine(reply.title)}`,
    `pack ${reply.code}`,
    `for ${oneLine(reply.to)}`,
    `points ${reply.count} ${reply.print}`,
    `by ${oneLine(reply.by)}`,
    `on ${reply.day}`,
  ];
  if (reply.accepted.length) fields.push(`accepted ${inRanges(reply.accepted)}`);
  for (const [number, why] of reply.back) fields.push(`back ${number}: ${oneLine(why)}`);
  return [START, ...fields, `sum ${sumOf(fields)}`].map((field) => `[${field}]\n`).join("");
}

function utf8(text) {
  const bytes = [];
  for (const letter of text) {
    let code = letter.codePointAt(0);
    if (code >= 0xd800 && code < 0xe000) code = 0xfffd;
    if (code < 0x80) bytes.push(code);
    else if (code < 0x800) bytes.push(0xc0 | (code >> 6), 0x80 | (code & 63));
    else if (code < 0x10000) bytes.push(0xe0 | (code >> 12), 0x80 | ((code >> 6) & 63), 0x80 | (code & 63));
    else bytes.push(0xf0 | (code >> 18), 0x80 | ((code >> 12) & 63), 0x80 | ((code >> 6) & 63), 0x80 | (code & 63));
  }
  return bytes;
}

// FIPS 180-4, 6.2: the constants are the fractions of the roots of the first primes, worked here.
function sha256(bytes) {
  const primes = [];
  for (let number = 2; primes.length < 64; number++) if (primes.every((prime) => number % prime)) primes.push(number);
  const fraction = (root) => ((root - Math.floor(root)) * 2 ** 32) | 0;
  const adds = primes.map((prime) => fraction(Math.cbrt(prime)));
  const state = primes.slice(0, 8).map((prime) => fraction(Math.sqrt(prime)));
  const turn = (word, by) => (word >>> by) | (word << (32 - by));
  const padded = [...bytes, 0x80];
  while (padded.length % 64 !== 56) padded.push(0);
  for (let at = 56; at >= 0; at -= 8) padded.push(Math.floor((bytes.length * 8) / 2 ** at) & 255);
  for (let block = 0; block < padded.length; block += 64) {
    const words = [];
    for (let at = 0; at < 64; at++) {
      if (at < 16) {
        const from = block + at * 4;
        words.push((padded[from] << 24) | (padded[from + 1] << 16) | (padded[from + 2] << 8) | padded[from + 3]);
      } else {
        const late = words[at - 2], early = words[at - 15];
        const one = turn(late, 17) ^ turn(late, 19) ^ (late >>> 10);
        const nought = turn(early, 7) ^ turn(early, 18) ^ (early >>> 3);
        words.push((one + words[at - 7] + nought + words[at - 16]) | 0);
      }
    }
    let [a, b, c, d, e, f, g, h] = state;
    for (let at = 0; at < 64; at++) {
      const one = (turn(e, 6) ^ turn(e, 11) ^ turn(e, 25)) + ((e & f) ^ (~e & g)) + h + adds[at] + words[at];
      const two = (turn(a, 2) ^ turn(a, 13) ^ turn(a, 22)) + ((a & b) ^ (a & c) ^ (b & c));
      [a, b, c, d, e, f, g, h] = [(one + two) | 0, a, b, c, (d + one) | 0, e, f, g];
    }
    [a, b, c, d, e, f, g, h].forEach((word, at) => (state[at] = (state[at] + word) | 0));
  }
  return state.map((word) => (word >>> 0).toString(16).padStart(8, "0")).join("");
}

// --- the page ---

function start() {
  const form = document.getElementById("reply");
  const find = (id) => document.getElementById(id);
  const points = [...form.querySelectorAll(".point")];
  const kept = `sitelog ${form.dataset.job} ${form.dataset.code} ${form.dataset.to}`;

  function answers() {
    return points.map((point) => {
      const chosen = point.querySelector("input:checked");
      return { point, number: Number(point.dataset.number), said: chosen ? chosen.value : "", why: point.querySelector("textarea").value };
    });
  }

  function show() {
    const all = answers();
    for (const { point, said } of all) point.querySelector(".why").hidden = said !== "back";
    const done = all.filter(({ said }) => said).length;
    const back = all.filter(({ said }) => said === "back").length;
    find("count").textContent = `${done} of ${all.length} points answered, ${back} sent back.`;
  }

  function keep() {
    const told = { by: find("by").value, points: answers().map(({ number, said, why }) => [number, said, why]) };
    try {
      localStorage.setItem(kept, JSON.stringify(told));
    } catch (error) {
      // This browser keeps nothing for a page off the disk: the answers last as long as the page.
    }
  }

  function restore() {
    try {
      const told = JSON.parse(localStorage.getItem(kept) || "{}");
      find("by").value = told.by || "";
      for (const [number, said, why] of told.points || []) {
        const point = find(`p${number}`);
        const choice = [...point.querySelectorAll("input")].find((input) => input.value === said);
        if (choice) choice.checked = true;
        point.querySelector("textarea").value = why;
      }
    } catch (error) {
      // As above.
    }
  }

  // The reply, or "" where something is missing: that is said, and the cursor goes there.
  function made() {
    const all = answers();
    const back = all.filter(({ said }) => said === "back");
    const accepted = all.filter(({ said }) => said === "yes").map(({ number }) => number);
    const words = /[\p{L}\p{N}]/u;
    const dumb = back.find(({ why }) => !words.test(why));
    if (!accepted.length && !back.length) return missing(points[0].querySelector("input"), "Accept a point, or send one back.");
    if (dumb) return missing(dumb.point.querySelector("textarea"), `Point ${dumb.number}: say why you send it back.`);
    if (!words.test(find("by").value)) return missing(find("by"), "Type your name.");
    if (!/^\d{4}-\d\d-\d\d$/.test(find("on").value)) return missing(find("on"), "Type the date.");
    say("");
    const { job, title, code, to, count, print } = form.dataset;
    const text = replyText({ job, title, code, to, count, print, by: find("by").value, day: find("on").value, accepted,
      back: back.map(({ number, why }) => [number, why]) });
    find("text").value = text;
    find("made").hidden = false;
    return text;
  }

  function missing(field, words) {
    say(words);
    field.focus();
    return "";
  }

  function say(words) {
    find("said").textContent = words;
  }

  function save() {
    const text = made();
    if (!text) return;
    const link = document.createElement("a");
    link.href = URL.createObjectURL(new Blob([text], { type: "text/plain" }));
    link.download = form.dataset.file;
    document.body.append(link);
    link.click();
    link.remove();
    say(`Saved as ${form.dataset.file}, where this browser saves files. Send that file back.`);
  }

  function copy() {
    if (!made()) return;
    find("text").focus();
    find("text").select();
    const copied = document.execCommand("copy");
    say(copied ? "Copied. Paste it into a message." : "Copy the text below, and paste it into a message.");
  }

  const today = new Date();
  find("on").value = [today.getFullYear(), today.getMonth() + 1, today.getDate()].map((part) => String(part).padStart(2, "0")).join("-");
  form.addEventListener("submit", (event) => event.preventDefault());
  form.addEventListener("input", () => (show(), keep()));
  find("save").addEventListener("click", save);
  find("copy").addEventListener("click", copy);
  restore();
  show();
  form.classList.add("live");
}

if (typeof document !== "undefined") start();
