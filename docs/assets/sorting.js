/* Sorting cells into groups: the same reading, refusals and search as the generator's measurements.py, match.py,
   grouping.py, exchange.py and exact_grouping.py; shared vectors hold the two together. */
"use strict";
(() => {
  const COLUMNS = ["cell", "capacity_mah", "resistance_mohm", "voltage_v", "self_discharge_mv_per_day"];
  const REQUIRED = COLUMNS.slice(0, 2), MAX_CELLS = 100000, MAX_PROBLEMS = 20, MAX_LINE = 2000, MAX_NAME = 80, MAX_COUNT = 100000;
  const NUMBER = /^[+-]?(\d+(\.\d*)?|\.\d+)([eE][+-]?\d{1,2})?$/;
  const RANGE = {
    capacity_mah: [20, 1e6, "Ah instead of mAh", "uAh instead of mAh"],
    resistance_mohm: [0.02, 1e4, "ohm instead of milliohm", "micro-ohm instead of milliohm"],
    voltage_v: [-5, 20, "the reading of a reversed pack", "mV instead of V, or a whole pack"],
    self_discharge_mv_per_day: [-100, 1000, "a cell that was still settling", "microvolt instead of mV"],
  };
  const RESISTANCE_RATIO = 2, LEAK_RATIO = 3, LEAK_NOISE = 1, LEAST_TO_COMPARE = 5, WEAK_SHARE = 0.6, JOIN_V = 0.05;
  const MAX_SEARCHES = 200000, MAX_DEALS = 400, MAX_PAIRED = 12, EXACT_CELLS = 40, MAX_STEPS = 150000;

  class TooFew extends Error {}
  const plain = (x) => String(Number(x.toPrecision(6)));

  /* Reading ------------------------------------------------------------------------------------------------------ */
  function fieldsOf(text, separator) {
    const fields = [];
    let place = 0;
    for (;;) {
      const begin = place;
      let content = "";
      if (text[place] === '"') {
        place += 1;
        for (;;) {
          const end = text.indexOf('"', place);
          if (end < 0) { content += text.slice(place); place = text.length; break; }
          content += text.slice(place, end);
          place = end + 1;
          if (text[end + 1] !== '"') break;
          content += '"';
          place = end + 2;
        }
      }
      const rest = text.indexOf(separator, place), end = rest < 0 ? text.length : rest;
      content += text.slice(place, end);
      fields.push([content, begin + 1]);
      if (end === text.length) return fields;
      place = end + 1;
    }
  }

  const short = (text) => { const shown = text.trim(); return shown.length <= 30 ? shown : `${shown.slice(0, 29)}...`; };

  function readMeasurements(text) {
    const cells = [], problems = [], seen = new Map();
    let names = null, separator = ",", last = 0;
    const problem = (line, column, id, message, hint = "") => problems.push({ line, column, id, message, hint });

    function header(line, number) {
      separator = [",", ";", "\t"].reduce((best, s) => (line.split(s).length > line.split(best).length ? s : best));
      const fields = fieldsOf(line, separator), known = fields.map(([name]) => name.trim().toLowerCase());
      fields.forEach(([name, column], i) => {
        if (!COLUMNS.includes(known[i])) problem(number, column, "unknown-column", `'${short(name)}' is no column of the table.`, `Known are ${COLUMNS.join(", ")}.`);
        else if (known.filter((other) => other === known[i]).length > 1) problem(number, column, "duplicate-column", `The column '${known[i]}' stands here more than once.`);
      });
      const missing = REQUIRED.filter((name) => !known.includes(name));
      if (missing.length) problem(number, 1, "missing-column", `The header lacks ${missing.join(" and ")}.`, `The first line is ${COLUMNS.join(",")}; the last three may be left out.`);
      names = known;
    }

    function nameOf(name, line, column) {
      if (!name || name.length > MAX_NAME) problem(line, column, "cell-name", `A cell needs a name of 1 to ${MAX_NAME} characters.`);
      else if (seen.has(name)) problem(line, column, "duplicate-cell", `The cell '${name}' was already in line ${seen.get(name)}.`, "Give every cell a name of its own.");
      else seen.set(name, line);
      return name;
    }

    function figureOf(known, content, line, column) {
      if (!content) {
        if (REQUIRED.includes(known)) problem(line, column, "missing-number", `${known} is empty.`, "Leave a cell that was not measured out.");
        return null;
      }
      if (!NUMBER.test(content)) {
        problem(line, column, "not-a-number", `${known} is '${short(content)}', not a number.`, /^[\d.,+-]+$/.test(content) ? "Write the decimal point as a point." : "Write the number alone, without its unit.");
        return null;
      }
      const figure = Number(content), [least, greatest, below, above] = RANGE[known];
      if (!(least <= figure && figure <= greatest)) problem(line, column, "unit", `${known} is ${content.slice(0, 20)}: outside ${plain(least)} to ${plain(greatest)}.`, `Perhaps ${figure < least ? below : above}.`);
      return figure;
    }

    function row(line, number) {
      const fields = fieldsOf(line, separator);
      if (fields.length !== names.length) {
        problem(number, fields[Math.min(fields.length, names.length) - 1][1], "wrong-count", `${fields.length} fields instead of ${names.length}.`, "A decimal comma splits a number in two: use a point.");
        return;
      }
      const cell = { cell: "", capacity_mah: null, resistance_mohm: null, voltage_v: null, self_discharge_mv_per_day: null, line: number, column: 1 };
      const before = problems.length;
      fields.forEach(([content, column], i) => {
        if (names[i] === "cell") cell.cell = nameOf(content.trim(), number, column);
        else {
          cell[names[i]] = figureOf(names[i], content.trim(), number, column);
          if (names[i] === "capacity_mah") cell.column = column;
        }
      });
      if (problems.length === before) cells.push(cell);
    }

    const lines = text.split("\n");
    if (lines[lines.length - 1] === "") lines.pop();
    for (last = 1; last <= lines.length; last++) {
      const line = lines[last - 1].replace(/\r+$/, "").replace(last === 1 ? /^\ufeff/ : /$^/, "");
      if (!line.trim() || line.startsWith("#")) continue;
      if (line.length > MAX_LINE) { problem(last, MAX_LINE + 1, "line-too-long", `The line has more than ${MAX_LINE} characters.`, "Is this a table of cells?"); break; }
      const bad = line.search(/[\u0000-\u0008\u000a-\u001f\u007f\ufffd]/);
      if (bad >= 0) problem(last, bad + 1, "not-text", "There is a character here that is not text.", "Save the table as CSV in UTF-8.");
      else if (!names) { header(line, last); if (problems.length) break; }
      else if (cells.length === MAX_CELLS) { problem(last, 1, "too-many-cells", `More than ${MAX_CELLS} cells.`, "Sort them in parts."); break; }
      else row(line, last);
      if (problems.length >= MAX_PROBLEMS) { problem(last, 1, "too-many-problems", `${MAX_PROBLEMS} problems up to here; the rest was not read.`); break; }
    }
    if (!problems.length && !cells.length) problem(Math.max(lines.length, 1), 1, "no-cells", `The table ${names ? "holds a header but no cell" : "is empty"}.`, `The first line is ${COLUMNS.join(",")}; then one line a cell.`);
    if (!problems.length) mixedUnits(cells, problem);
    return { cells, problems };
  }

  function mixedUnits(cells, problem) {
    for (const [name, wrong] of [["capacity_mah", "Ah"], ["resistance_mohm", "ohm"]]) {
      const given = cells.map((cell) => cell[name]).filter((figure) => figure !== null).sort((a, b) => a - b);
      const middle = given.length ? given[Math.floor(given.length / 2)] : 0;
      for (const cell of cells) {
        const figure = cell[name];
        if (figure !== null && figure * 100 < middle && middle / 3 < figure * 1000 && figure * 1000 < middle * 3) {
          problem(cell.line, cell.column, "unit", `${name} of '${cell.cell}' is ${plain(figure)} where the cells have about ${plain(middle)}.`, `Perhaps ${wrong}: write it in the unit of the column.`);
        }
      }
    }
  }

  /* Grouping ----------------------------------------------------------------------------------------------------- */
  const sumsOf = (groups, caps) => groups.map((members) => members.reduce((sum, r) => sum + caps[r], 0));
  const least = (numbers) => numbers.reduce((a, b) => (b < a ? b : a));
  const rising = (a, b) => a - b;
  const orderOf = (sums, sign) => sums.map((_, g) => g).sort((a, b) => sign * (sums[a] - sums[b]) || a - b);

  function fold(caps, series) {
    const groups = Array.from({ length: series }, () => []);
    caps.forEach((_, rank) => {
      const turn = Math.floor(rank / series), place = rank % series;
      groups[turn % 2 === 0 ? place : series - 1 - place].push(rank);
    });
    return groups;
  }

  function greedy(caps, series) {
    const groups = Array.from({ length: series }, () => []), sums = new Array(series).fill(0);
    for (let start = 0; start < caps.length; start += series) {
      orderOf(sums, 1).forEach((g, place) => { groups[g].push(start + place); });
      groups.forEach((members, g) => { sums[g] += caps[members[members.length - 1]]; });
    }
    return groups;
  }

  function upperBound(caps, series, parallel) {
    const prefix = [0];
    for (const cap of caps) prefix.push(prefix[prefix.length - 1] + cap);
    let bound = caps[caps.length - 1] + prefix[parallel - 1];
    for (let j = 0; j < series; j++) bound = Math.min(bound, Math.floor((prefix[j + (series - j) * parallel] - prefix[j]) / (series - j)));
    return bound;
  }

  function spread(groups, caps) {
    const sums = sumsOf(groups, caps), mean = Math.floor(sums.reduce((a, b) => a + b, 0) / sums.length);
    return sums.reduce((total, sum) => total + Math.abs(sum - mean), 0);
  }

  function deal(groups, caps, places) {
    const kept = groups.map((members) => members.filter((_, j) => !places.includes(j)));
    const taken = groups.map((members) => places.map((j) => members[j]));
    const weakest = orderOf(sumsOf(kept, caps), 1), strongest = orderOf(sumsOf(taken, caps), -1);
    return weakest.map((a, k) => [...kept[a], ...taken[strongest[k]]].sort(rising));
  }

  function dealAgain(groups, caps) {
    const size = groups[0].length, places = [];
    for (let j = 0; j < size; j++) places.push([j]);
    if (size > 3) for (let j = 0; j + 1 < size; j++) places.push([j, j + 1]);
    groups = groups.map((members) => [...members].sort(rising));
    let before = spread(groups, caps), unchanged = 0;
    for (let turn = 0; unchanged < places.length && turn < MAX_DEALS; turn++) {
      groups = deal(groups, caps, places[turn % places.length]);
      const now = spread(groups, caps);
      unchanged = now >= before ? unchanged + 1 : 0;
      before = now;
    }
    return groups;
  }

  function firstNotAbove(items, twice) {
    let low = 0, high = items.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (2 * items[middle][0] > twice) low = middle + 1;
      else high = middle;
    }
    return low;
  }

  function improve(start, caps, limit) {
    const groups = dealAgain(start, caps), sums = sumsOf(groups, caps);
    let searches = 0;
    const items = (group, count) => {
      const members = groups[group];
      if (count === 1) return members.map((r) => [caps[r], [r]]);
      const pairs = [];
      members.forEach((a, place) => members.slice(place + 1).forEach((b) => pairs.push([caps[a] + caps[b], [a, b]])));
      return pairs.sort((x, y) => y[0] - x[0] || x[1][0] - y[1][0] || x[1][1] - y[1][1]);
    };
    const exchange = (weak, strong, count) => {
      const gap = sums[strong] - sums[weak];
      if (gap < 2) return false;
      const offered = items(strong, count);
      let best = 0, at = null;
      for (const own of items(weak, count)) {
        searches += 1;
        const middle = firstNotAbove(offered, 2 * own[0] + gap);
        for (const j of [middle, middle - 1]) {
          if (j < 0 || j >= offered.length) continue;
          const moved = offered[j][0] - own[0], gain = Math.min(moved, gap - moved);
          if (gain > best) { best = gain; at = [own, offered[j]]; }
        }
      }
      if (!at) return false;
      const [given, taken] = at;
      groups[weak] = [...groups[weak].filter((r) => !given[1].includes(r)), ...taken[1]].sort(rising);
      groups[strong] = [...groups[strong].filter((r) => !taken[1].includes(r)), ...given[1]].sort(rising);
      sums[weak] += taken[0] - given[0];
      sums[strong] += given[0] - taken[0];
      return true;
    };
    const help = (count) => {
      if (count > groups[0].length || (count === 2 && groups[0].length > MAX_PAIRED)) return false;
      const weakest = sums.indexOf(least(sums));
      return orderOf(sums, -1).some((partner) => searches < MAX_SEARCHES && exchange(weakest, partner, count));
    };
    while (least(sums) < limit && searches < MAX_SEARCHES && (help(1) || help(2)));
    return groups;
  }

  function prove(caps, series, parallel, best, limit) {
    let steps = MAX_STEPS, found = null;
    const over = () => steps <= 0 || best >= limit;
    const restCan = (rest, remaining) => remaining >= (rest.length / parallel - 1) * (best + 1);

    function split(rest, total, chosen) {
      if (rest.length === parallel) {
        if (total > best) {
          found = [...chosen, rest];
          best = least(sumsOf(found, caps));
        }
        return;
      }
      const sums = [0];
      for (const r of rest) sums.push(sums[sums.length - 1] + caps[r]);
      fill(rest, sums, 1, [rest[0]], caps[rest[0]], chosen);
    }

    function fill(rest, sums, start, members, held, chosen) {
      steps -= 1;
      const missing = parallel - members.length, end = rest.length, total = sums[end];
      if (missing === 0) {
        if (held > best && restCan(rest, total - held)) split(rest.filter((r) => !members.includes(r)), total - held, [...chosen, members]);
        return;
      }
      const weakest = total - sums[end - missing + 1];
      let previous = -1;
      for (let place = start; place <= end - missing; place++) {
        if (over() || held + sums[place + missing] - sums[place] <= best) return;
        const cap = caps[rest[place]];
        if (cap === previous || !restCan(rest, total - held - cap - weakest)) continue;
        previous = cap;
        fill(rest, sums, place + 1, [...members, rest[place]], held + cap, chosen);
      }
    }

    split(caps.map((_, r) => r), caps.reduce((a, b) => a + b, 0), []);
    return [found, steps > 0];
  }

  function bestGroups(caps, series, parallel) {
    if (parallel <= 2 || series === 1) {
      const groups = parallel === 2 ? Array.from({ length: series }, (_, r) => [r, caps.length - 1 - r]) : fold(caps, series);
      return [groups, least(sumsOf(groups, caps)), true];
    }
    const limit = upperBound(caps, series, parallel);
    const one = improve(fold(caps, series), caps, limit), two = improve(greedy(caps, series), caps, limit);
    let groups = least(sumsOf(two, caps)) > least(sumsOf(one, caps)) ? two : one;
    const weakest = least(sumsOf(groups, caps));
    if (weakest === limit || caps.length > EXACT_CELLS) return [groups, limit, weakest === limit];
    const [better, proven] = prove(caps, series, parallel, weakest, limit);
    groups = better ?? groups;
    return [groups, proven ? least(sumsOf(groups, caps)) : limit, proven];
  }

  function spareTheStrong(groups, caps) {
    const used = groups.reduce((n, members) => n + members.length, 0), floor = least(sumsOf(groups, caps));
    const spare = [];
    for (let r = used; r < caps.length; r++) spare.push(r);
    for (const members of groups) {
      members.sort(rising);
      let slack = members.reduce((sum, r) => sum + caps[r], 0) - floor;
      [...members].forEach((rank, place) => {
        let low = 0, high = spare.length;
        while (low < high) {
          const middle = (low + high) >> 1;
          if (caps[spare[middle]] >= caps[rank] - slack) low = middle + 1;
          else high = middle;
        }
        const weakest = low - 1;
        if (weakest < 0 || caps[spare[weakest]] >= caps[rank]) return;
        slack -= caps[rank] - caps[spare[weakest]];
        [members[place]] = spare.splice(weakest, 1);
        let at = 0, to = spare.length;
        while (at < to) { const middle = (at + to) >> 1; if (spare[middle] <= rank) at = middle + 1; else to = middle; }
        spare.splice(at, 0, rank);
      });
    }
    return [groups, spare];
  }

  function compareLists(a, b) {
    for (let i = 0; i < a.length; i++) if (a[i] !== b[i]) return a[i] - b[i];
    return 0;
  }

  function groupCells(capacities, series, parallel) {
    const order = capacities.map((_, i) => i).sort((a, b) => capacities[b] - capacities[a] || a - b);
    const all = order.map((i) => capacities[i]), caps = all.slice(0, series * parallel);
    const [groups, bound, optimal] = bestGroups(caps, series, parallel);
    const [used, spare] = spareTheStrong(groups, all);
    const sorted = used.map((members) => [...members].sort(rising));
    sorted.sort((a, b) => sumsOf([b], all)[0] - sumsOf([a], all)[0] || compareLists(a, b));
    return { groups: sorted.map((g) => g.map((r) => order[r])), spare: spare.map((r) => order[r]), bound, optimal };
  }

  /* Matching ----------------------------------------------------------------------------------------------------- */
  function middleOf(figures) {
    const given = figures.filter((figure) => figure !== null).sort(rising);
    return given.length >= LEAST_TO_COMPARE ? given[Math.floor((given.length - 1) / 2)] : null;
  }

  function refusals(cells, floor) {
    const resistance = middleOf(cells.map((c) => c.resistance_mohm)), leak = middleOf(cells.map((c) => c.self_discharge_mv_per_day));
    return cells.map((c) => {
      if (c.voltage_v !== null && floor !== null && c.voltage_v < floor) return `found at ${plain(c.voltage_v)} V, below the floor of ${plain(floor)} V: recycle it, do not charge it`;
      const loss = c.self_discharge_mv_per_day;
      if (loss !== null && leak !== null && loss > Math.max(LEAK_RATIO * leak, leak + LEAK_NOISE)) return `loses ${plain(loss)} mV a day, the middle of the set ${plain(leak)}: it leaks, recycle it`;
      if (c.resistance_mohm !== null && resistance !== null && c.resistance_mohm > RESISTANCE_RATIO * resistance) {
        return `resistance ${plain(c.resistance_mohm)} mOhm, more than ${plain(RESISTANCE_RATIO)} times the middle of the set, ${plain(resistance)}: worn or damaged`;
      }
      return null;
    });
  }

  const wholeOf = (figure, scale) => Math.floor(figure * scale + 0.5);
  const decimalsOf = (figure) => [0, 1, 2].find((d) => wholeOf(figure, 10 ** d) / 10 ** d === figure) ?? 3;
  const namesOf = (names) => names.slice(0, 10).join(", ") + (names.length > 10 ? ` and ${names.length - 10} more` : "");

  function matchCells(cells, series, parallel, floor) {
    const counted = (n) => Number.isInteger(n) && n >= 1 && n <= MAX_COUNT;
    if (!counted(series) || !counted(parallel)) throw new TooFew(`cells in series and in parallel are counted from 1 to ${MAX_COUNT}`);
    const reasons = refusals(cells, floor), fit = cells.filter((_, i) => !reasons[i]);
    const no = cells.map((c, i) => ({ cell: c.cell, reason: reasons[i], refused: true })).filter((r) => r.reason);
    if (fit.length < series * parallel) {
      let text = `${series}S${parallel}P needs ${series * parallel} cells, but only ${fit.length} may be used`;
      if (no.length) text += `, ${no.length} refused (${no.slice(0, 5).map((r) => `${r.cell}: ${r.reason}`).join("; ")}${no.length > 5 ? `; and ${no.length - 5} more` : ""})`;
      throw new TooFew(`${text}.`);
    }
    const scale = 10 ** fit.reduce((d, c) => Math.max(d, decimalsOf(c.capacity_mah)), 0);
    const whole = fit.map((c) => wholeOf(c.capacity_mah, scale));
    const found = groupCells(whole, series, parallel);
    const sums = found.groups.map((group) => group.reduce((sum, i) => sum + whole[i], 0));
    const weakest = least(sums), total = sums.reduce((a, b) => a + b, 0);
    const together = (group) => (group.some((i) => fit[i].resistance_mohm === null) ? null : 1 / group.reduce((sum, i) => sum + 1 / fit[i].resistance_mohm, 0));
    const used = found.groups.flat(), weakestUsed = least(used.map((i) => whole[i]));
    return {
      series, parallel,
      groups: found.groups.map((group, k) => ({ cells: group.map((i) => fit[i].cell), capacity_mah: sums[k] / scale, resistance_mohm: together(group) })),
      rejects: [...no, ...found.spare.map((i) => ({
        cell: fit[i].cell, refused: false,
        reason: whole[i] < weakestUsed ? "weaker than every cell used" : "not needed: the weakest group would gain nothing; keep it for another pack",
      }))],
      usable_capacity_mah: weakest / scale, bound_mah: found.bound / scale, optimal: found.optimal,
      spread_mah: (sums.reduce((a, b) => Math.max(a, b)) - weakest) / scale,
      wasted_mah: (total - series * weakest) / scale, wasted_share: (total - series * weakest) / total,
      notes: notesOf(used.map((i) => fit[i]), parallel),
    };
  }

  function notesOf(used, parallel) {
    const notes = [], middle = middleOf(used.map((c) => c.capacity_mah));
    const weak = used.filter((c) => middle !== null && c.capacity_mah < WEAK_SHARE * middle).map((c) => c.cell);
    if (weak.length) notes.push(`Below 60% of the middle of the cells used: ${namesOf(weak)}. Measure again, or leave out.`);
    const volts = used.map((c) => c.voltage_v).filter((v) => v !== null);
    if (parallel > 1 && volts.length) {
      const low = least(volts), high = volts.reduce((a, b) => Math.max(a, b));
      if (high - low > JOIN_V) notes.push(`Voltages from ${plain(low)} to ${plain(high)} V: bring the cells of a group to one voltage before joining them, or a large current flows.`);
    }
    return notes;
  }

  globalThis.almanacSorting = { readMeasurements, matchCells, groupCells, TooFew };

  /* The page ----------------------------------------------------------------------------------------------------- */
  const form = document.getElementById("sorting-tool");
  if (!form) return;
  const data = JSON.parse(document.getElementById("sorting-data").textContent);
  const out = form.querySelector(".said");
  const element = (name, text, cls) => {
    const made = document.createElement(name);
    if (text !== undefined) made.textContent = text;
    if (cls) made.className = cls;
    return made;
  };
  const figure = (x, places = 0) => x.toFixed(places).replace("-", "\u2212").replace(/\B(?=(\d{3})+(?!\d))/g, x >= 10000 ? "\u202f" : "");

  function table(caption, titles, rows) {
    const wrap = element("div", undefined, "tw"), made = element("table", undefined, "data");
    wrap.tabIndex = 0;
    wrap.setAttribute("role", "region");
    wrap.setAttribute("aria-label", caption);
    made.append(element("caption", caption));
    const head = made.createTHead().insertRow();
    for (const [title, cls] of titles) {
      const th = element("th", title, cls);
      th.scope = "col";
      head.append(th);
    }
    const body = made.createTBody();
    for (const cells of rows) {
      const row = body.insertRow();
      cells.forEach((text, i) => {
        const cell = element(i ? "td" : "th", text, titles[i][1]);
        if (!i) cell.scope = "row";
        row.append(cell);
      });
    }
    wrap.append(made);
    return wrap;
  }

  const SHOWN = 500;
  function show(result) {
    out.append(element("p", `${result.series}S${result.parallel}P gives ${figure(result.usable_capacity_mah)} mAh: its weakest group. ${result.optimal ? "Proven the best possible." : `No grouping gives more than ${figure(result.bound_mah)} mAh.`}`));
    out.append(element("p", `Strongest less weakest group ${figure(result.spread_mah)} mAh; ${figure(result.wasted_mah)} mAh of the cells used cannot be used, ${figure(100 * result.wasted_share, 2)} %.`));
    for (const note of result.notes) out.append(element("p", note, "wrong"));
    out.append(table("Groups, strongest first", [["Group"], ["mAh", "n"], ["m\u03a9", "n"], ["Cells"]],
      result.groups.slice(0, SHOWN).map((g, i) => [`${i + 1}`, figure(g.capacity_mah), g.resistance_mohm === null ? "\u2013" : figure(g.resistance_mohm, 2), g.cells.slice(0, SHOWN).join(", ")])));
    if (result.rejects.length) {
      out.append(table("Refused or left out", [["Cell"], ["Status"], ["Why"]], result.rejects.slice(0, SHOWN).map((r) => [r.cell, r.refused ? "refused" : "left out", r.reason])));
    }
    if (Math.max(result.groups.length, result.rejects.length) > SHOWN) out.append(element("p", `The first ${SHOWN} of each are shown; the download has all.`));
    const link = element("a", "Download the result as JSON");
    link.href = URL.createObjectURL(new Blob([JSON.stringify(result, null, 2)], { type: "application/json" }));
    link.download = "groups.json";
    out.append(link);
  }

  function wholeNumber(name, label) {
    const text = form.elements[name].value.trim();
    if (!/^\d{1,6}$/.test(text)) throw new TooFew(`${label}: "${text.slice(0, 20)}" is not a whole number.`);
    return Number(text);
  }

  form.hidden = false;
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    out.replaceChildren();
    const { cells, problems } = readMeasurements(form.elements.cells.value);
    if (problems.length) {
      const list = element("ul");
      for (const p of problems) list.append(element("li", `Line ${p.line}, column ${p.column}: ${p.message} ${p.hint}`, "wrong"));
      out.append(list);
      return;
    }
    try {
      const floorText = form.elements.floor.value.trim().replace(",", ".");
      if (floorText && !/^\d+(\.\d*)?$/.test(floorText)) throw new TooFew(`Floor: "${floorText.slice(0, 20)}" is not a voltage.`);
      show(matchCells(cells, wholeNumber("series", "In series"), wholeNumber("parallel", "In parallel"), floorText ? Number(floorText) : null));
    } catch (error) {
      if (!(error instanceof TooFew)) throw error;
      out.append(element("p", error.message, "wrong"));
    }
  });
  form.querySelector("#sorting-file").addEventListener("change", (event) => {
    const [file] = event.target.files;
    if (!file) return;
    if (file.size > data.max_bytes) {
      out.replaceChildren(element("p", `The file has more than ${figure(data.max_bytes / 1e6)} MB: is it a table of cells?`, "wrong"));
      return;
    }
    file.text().then((text) => { form.elements.cells.value = text; });
  });
  form.querySelector("#sorting-sample").addEventListener("click", () => { form.elements.cells.value = data.sample; });
})();
