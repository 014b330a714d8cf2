// The search of the whole book: an extra. Without it find.html lists every word of the index as a link.
// The data comes from search-data.js, which lies beside this file and sets window.bookSearch.
(function () {
  "use strict";

  var NAME = 1, PLACE = 0.6, LOOSE = 0.4;
  var ALIKE = 0.85, PREFIX = 0.85, ONE_OFF = 0.75, TWO_OFF = 0.55;
  var SHOWN = 8, LEAST = 0.2, NEAR_BEST = 0.45;

  function fold(text) {
    return text.toLowerCase().normalize("NFKD").replace(/[\u0300-\u036f]/g, "").match(/[a-z]+|[0-9]+/g) || [];
  }

  // One form for column and columns, drip and dripping, 3 and 03.
  function stem(word) {
    if (/^\d/.test(word)) { return word.replace(/^0+(?=\d)/, ""); }
    var short = word;
    if (/ies$/.test(short) && short.length > 4) { short = short.slice(0, -3) + "y"; }
    else if (/(s|x|ch|sh|z)es$/.test(short) && short.length > 5) { short = short.slice(0, -2); }
    else if (/[^su]s$/.test(short) && short.length > 3) { short = short.slice(0, -1); }
    if (/ing$/.test(short) && short.length > 5) { short = short.slice(0, -3); }
    else if (/ed$/.test(short) && short.length > 4) { short = short.slice(0, -2); }
    if (/([b-df-hj-kmnp-rtv-z])\1$/.test(short)) { short = short.slice(0, -1); }
    return /e$/.test(short) && short.length > 4 ? short.slice(0, -1) : short;
  }

  // Letters left out, put in, put wrong or swapped with their neighbour; more than `most` is as good as none.
  function distance(one, other, most) {
    if (Math.abs(one.length - other.length) > most) { return most + 1; }
    var before = null, row = [], next, i, j, least;
    for (j = 0; j <= other.length; j += 1) { row[j] = j; }
    for (i = 1; i <= one.length; i += 1) {
      next = [i];
      least = i;
      for (j = 1; j <= other.length; j += 1) {
        next[j] = Math.min(row[j] + 1, next[j - 1] + 1, row[j - 1] + (one[i - 1] === other[j - 1] ? 0 : 1));
        if (before && i > 1 && j > 1 && one[i - 1] === other[j - 2] && one[i - 2] === other[j - 1]) {
          next[j] = Math.min(next[j], before[j - 2] + 1);
        }
        least = Math.min(least, next[j]);
      }
      if (least > most) { return most + 1; }
      before = row;
      row = next;
    }
    return row[other.length];
  }

  // A slip seldom spoils both of the first two letters; asking for one of them spares most of the measuring.
  function startsAlike(one, other) {
    return one[0] === other[0] || one[1] === other[1] || one[0] === other[1] || one[1] === other[0];
  }

  function Index(data) {
    var index = this;
    index.data = data;
    index.numbers = Object.create(null); // word -> number
    index.words = [];
    index.skip = Object.create(null);
    data.skip.forEach(function (word) { fold(word).forEach(function (part) { index.skip[part] = true; }); });
    index.groups = data.alike.map(function (group) { return index.numbersOf(group, true); });
    var phrases = data.phrases.map(function (phrase) { return index.numbersOf(phrase); });
    index.entries = data.entries.map(function (row) { return index.entry(row, phrases); });
    index.rarity = index.rarities();
  }

  // The numbers of the words of a text, each once; words that say nothing are left out.
  Index.prototype.numbersOf = function (text, all) {
    var index = this, found = [];
    fold(text).forEach(function (word) {
      if (!all && index.skip[word]) { return; }
      var short = stem(word), number = index.numbers[short];
      if (number === undefined) {
        number = index.words.length;
        index.numbers[short] = number;
        index.words.push(short);
      }
      if (found.indexOf(number) < 0) { found.push(number); }
    });
    return found;
  };

  Index.prototype.entry = function (row, phrases) {
    var names = [this.numbersOf(row[0])].concat(row[2].map(function (place) { return phrases[place]; }));
    var shares = Object.create(null);
    function add(words, share) {
      words.forEach(function (word) { shares[word] = Math.max(shares[word] || 0, share); });
    }
    add(this.numbersOf(row[3]), LOOSE);
    add(this.numbersOf(row[1]), PLACE);
    names.forEach(function (name) { add(name, NAME); });
    var words = Object.keys(shares).map(Number);
    return {
      title: row[0], where: row[1], names: names.filter(function (name) { return name.length; }),
      words: words, shares: words.map(function (word) { return shares[word]; }),
      page: row[4], anchor: row[5], tag: row[6], picture: row[7], weight: row[8]
    };
  };

  // A word that few answers hold tells more.
  Index.prototype.rarities = function () {
    var counts = [], total = this.entries.length;
    this.entries.forEach(function (entry) {
      entry.words.forEach(function (word) { counts[word] = (counts[word] || 0) + 1; });
    });
    return this.words.map(function (_, word) { return Math.log(1 + total / (counts[word] || 1)); });
  };

  // How well each known word fits a word that was typed: itself, its beginning, a slip of a finger, a word alike.
  Index.prototype.fits = function (typed, last) {
    var index = this, exact = index.numbers[typed], count = index.words.length;
    var near = new Float64Array(count), fits, most, number, word, off;
    if (exact !== undefined) { near[exact] = 1; }
    most = typed.length > 6 ? 2 : typed.length > 3 ? 1 : 0;
    for (number = 0; number < count && !/^\d/.test(typed); number += 1) {
      word = index.words[number];
      if (number === exact) { continue; }
      if (typed.length > 1 && (last || typed.length > 3) && word.lastIndexOf(typed, 0) === 0) {
        near[number] = PREFIX * (0.5 + 0.5 * typed.length / word.length);
      } else if (exact === undefined && most && word.length > 2 && startsAlike(typed, word)) {
        off = distance(typed, word, most);
        if (off <= most) { near[number] = off === 1 ? ONE_OFF : TWO_OFF; }
      }
    }
    fits = near.slice();
    index.groups.forEach(function (group) {
      var best = group.reduce(function (most, other) { return Math.max(most, near[other]); }, 0);
      if (best < TWO_OFF) { return; }
      group.forEach(function (other) { fits[other] = Math.max(fits[other], best * ALIKE); });
    });
    return fits;
  };

  // The words of a question, each with what it fits and how much it tells; a word that fits nothing is let go.
  Index.prototype.asked = function (text) {
    var index = this, typed = fold(text), last = typed[typed.length - 1];
    var telling = typed.filter(function (word) { return !index.skip[word]; });
    var once = (telling.length ? telling : typed).filter(function (word, place, all) {
      return all.indexOf(word) === place;
    });
    return once.map(function (word) {
      var fits = index.fits(stem(word), word === last), best = 0, tells = 0;
      fits.forEach(function (fit, number) {
        if (fit > best) { best = fit; tells = index.rarity[number]; }
      });
      return { fits: fits, tells: tells };
    }).filter(function (one) { return one.tells > 0; });
  };

  // How well the words of one name or phrasing are what was asked, and are all that was asked.
  Index.prototype.nameScore = function (name, asked, whole) {
    var heard = 0, said = 0, all = 0, best, i, j;
    for (i = 0; i < asked.length; i += 1) {
      best = 0;
      for (j = 0; j < name.length; j += 1) { best = Math.max(best, asked[i].fits[name[j]]); }
      heard += asked[i].tells * best;
    }
    if (!heard) { return 0; }
    for (j = 0; j < name.length; j += 1) {
      best = 0;
      for (i = 0; i < asked.length; i += 1) { best = Math.max(best, asked[i].fits[name[j]]); }
      said += this.rarity[name[j]] * best;
      all += this.rarity[name[j]];
    }
    return heard / whole * (0.55 + 0.45 * said / all);
  };

  Index.prototype.score = function (entry, asked, whole) {
    var loose = 0, best = 0, fit, i, j;
    for (i = 0; i < asked.length; i += 1) {
      fit = 0;
      for (j = 0; j < entry.words.length; j += 1) {
        fit = Math.max(fit, asked[i].fits[entry.words[j]] * entry.shares[j]);
      }
      loose += asked[i].tells * fit;
    }
    if (!loose) { return 0; }
    for (j = 0; j < entry.names.length; j += 1) { best = Math.max(best, this.nameScore(entry.names[j], asked, whole)); }
    return 0.6 * best + 0.4 * loose / whole;
  };

  // The answers to a question, the best first.
  Index.prototype.answers = function (text) {
    var index = this, asked = index.asked(text), best;
    var whole = asked.reduce(function (sum, one) { return sum + one.tells; }, 0);
    if (!whole) { return []; }
    var found = index.entries.map(function (entry, place) {
      var score = index.score(entry, asked, whole);
      return { entry: entry, place: place, score: score && score * (0.85 + entry.weight / 60) };
    });
    found.sort(function (one, other) { return other.score - one.score || one.place - other.place; });
    best = found.length ? found[0].score : 0;
    return found.filter(function (one) { return one.score >= LEAST && one.score >= best * NEAR_BEST; })
      .slice(0, SHOWN).map(function (one) { return one.entry; });
  };

  function element(name, kind, words) {
    var made = document.createElement(name);
    if (kind) { made.className = kind; }
    if (words) { setWords(made, words); }
    return made;
  }

  // Words with their fractions set as fractions, as on every page.
  function setWords(place, words) {
    words.split(/(\d+\u2044\d+)/).forEach(function (part, count) {
      if (!part) { return; }
      if (count % 2) {
        var fraction = document.createElement("span");
        fraction.className = "fr";
        fraction.textContent = part;
        place.appendChild(fraction);
      } else {
        place.appendChild(document.createTextNode(part));
      }
    });
  }

  function filled(form, words) {
    return form.replace(/\{(\w+)\}/g, function (_, name) { return words[name]; });
  }

  function Box(box, data) {
    this.root = box.getAttribute("data-root");
    this.data = data;
    this.index = null;
    this.field = box.querySelector("input");
    this.list = box.querySelector(".seek-answers");
    this.status = box.querySelector(".seek-status");
    this.box = box;
    this.listen();
    box.hidden = false;
  }

  Box.prototype.listen = function () {
    var box = this, waiting;
    function ready() { box.index = box.index || new Index(box.data); }
    box.field.addEventListener("focus", ready);
    box.field.addEventListener("input", function () {
      ready();
      box.show();
      // Told once the typing rests, so that a screen reader is not interrupted at each letter.
      clearTimeout(waiting);
      waiting = setTimeout(function () { box.tell(); }, 400);
    });
    box.box.addEventListener("keydown", function (event) { box.key(event); });
    box.box.addEventListener("submit", function (event) {
      event.preventDefault();
      if (box.links().length) { box.links()[0].click(); } else { box.tell(); }
    });
    if (box.field.value) { ready(); box.show(); }
  };

  Box.prototype.links = function () {
    return Array.prototype.slice.call(this.list.querySelectorAll("a"));
  };

  Box.prototype.key = function (event) {
    var links = this.links(), place = links.indexOf(document.activeElement);
    if (event.key === "Escape" && this.field.value) {
      this.field.value = "";
      this.show();
      this.tell();
      this.field.focus();
    } else if (event.key === "ArrowDown" && place + 1 < links.length) {
      links[place + 1].focus();
    } else if (event.key === "ArrowUp" && place >= 0) {
      (links[place - 1] || this.field).focus();
    } else {
      return;
    }
    event.preventDefault();
  };

  Box.prototype.show = function () {
    var box = this, made = document.createDocumentFragment();
    box.answers = box.index.answers(box.field.value);
    box.answers.forEach(function (entry) { made.appendChild(box.answer(entry)); });
    box.list.textContent = "";
    box.list.appendChild(made);
    var first = box.list.hidden && box.answers.length > 0;
    box.list.hidden = !box.answers.length;
    box.box.classList.toggle("seek-none", !box.answers.length && box.field.value.trim() !== "");
    if (!box.field.value.trim() || box.answers.length) { box.status.textContent = ""; }
    // Asked at the first letter only, for it makes the browser lay out the page at once.
    if (first && box.list.getBoundingClientRect().top > window.innerHeight / 2) {
      box.box.scrollIntoView({ block: "start" });
    }
  };

  Box.prototype.tell = function () {
    var say = this.data.say, count = this.answers ? this.answers.length : 0;
    if (!this.field.value.trim()) { this.status.textContent = ""; return; }
    if (!count) { this.status.textContent = say["find none"]; return; }
    this.status.textContent = filled(count === 1 ? say["find one"] : say["find some"], { count: String(count) }) + ". " +
      filled(say["find best"], { title: this.answers[0].title, where: this.answers[0].where });
  };

  Box.prototype.answer = function (entry) {
    var item = element("li", ""), link = element("a", "seek-answer"), words = element("span", "seek-words");
    var frame, picture;
    link.href = this.root + this.data.pages[entry.page] + (entry.anchor ? "#" + entry.anchor : "");
    if (entry.picture >= 0) {
      frame = element("span", "seek-picture");
      picture = element("img", "");
      picture.src = this.root + this.data.pictures[entry.picture];
      picture.alt = "";
      frame.appendChild(picture);
      link.appendChild(frame);
    } else {
      link.classList.add("seek-plain");
    }
    words.appendChild(element("span", "seek-title", entry.title));
    words.appendChild(document.createTextNode(" "));
    words.appendChild(element("span", "seek-where", entry.where));
    link.appendChild(words);
    if (entry.tag) { link.appendChild(this.tag(entry.tag)); }
    item.appendChild(link);
    return item;
  };

  // The hang tag, drawn once in the page and copied, so that the drawing stands in one place only.
  Box.prototype.tag = function (number) {
    var tag = this.box.querySelector("template").content.firstElementChild.cloneNode(true);
    var place = tag.querySelector(".tag-number");
    place.lastChild.textContent = number;
    return tag;
  };

  if (window.bookSearch) {
    Array.prototype.forEach.call(document.querySelectorAll("[data-seek]"), function (box) {
      new Box(box, window.bookSearch);
    });
  }
})();
