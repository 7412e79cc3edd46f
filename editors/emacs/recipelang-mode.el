;;; recipelang-mode.el --- Standardized recipes in plain text -*- lexical-binding: t -*-

;; Version: 0.1.0
;; Package-Requires: ((emacs "27.1"))
;; Keywords: languages
;; SPDX-License-Identifier: MIT

;;; Commentary:

;; A major mode for files named *.recipe: colors, comments, and the language server `recipelang server' through
;; eglot (in Emacs since 29) or lsp-mode, whichever is used.

;;; Code:

;; begin words
;; Made by `python -m editors.generate` from the notation's grammar; changes here are lost.
(defconst recipelang-words-kinds
  '("food" "container" "recipe" "variation" "menu" "calendar"))
(defconst recipelang-words-fields
  '("vegetables for grains" "grain-based dessert" "offer versus serve" "as in the pantry"
    "breakfast cereal" "creditable grain" "whole grain-rich" "instead of step" "leave out step"
    "water activity" "batch at most" "made without" "no date mark" "shared fryer" "also called"
    "each weighs" "grain group" "may contain" "other grain" "after step" "label read" "serve with"
    "usda foods" "grains by" "headspace" "leave out" "left from" "packed in" "based on" "caffeine"
    "contains" "domestic" "evidence" "imported" "to taste" "tray for" "arrives" "credits" "not tcs"
    "process" "program" "sold as" "change" "choose" "closed" "course" "credit" "liquid" "number"
    "offers" "starts" "tested" "weighs" "yields" "yogurt" "holds" "juice" "keeps" "loses" "makes"
    "meals" "price" "serve" "fits" "item" "milk" "pack" "pans" "sell" "site" "add" "end" "for" "tcs"
    "use" "in" "ph"))
(defconst recipelang-words-blocks
  '("ingredients" "every day" "leftovers" "nutrition" "wednesday" "saturday" "thursday" "tuesday"
    "friday" "monday" "sunday" "steps"))
(defconst recipelang-words-typed
  '("hold without temperature control" "work at room temperature" "microwave to" "chill from"
    "hold cold" "reheat to" "transport" "chill to" "hold hot" "cook at" "cook to" "freeze" "simmer"
    "boil" "rest" "thaw"))
(defconst recipelang-words-inside
  '("under the refrigeration" "under the refrigerator" "in cold running water"
    "in the refrigeration" "at room temperature" "in the refrigerator" "under refrigeration"
    "under refrigerator" "in refrigeration" "in the microwave" "none of the nine" "under the cooler"
    "in refrigerator" "with its liquid" "in the cooler" "stand covered" "while cooking"
    "with at least" "as purchased" "not credited" "under cooler" "credited as" "on the side"
    "per portion" "reduced-fat" "instead of" "unflavored" "as served" "by weight" "counts as"
    "in cooler" "left over" "or higher" "untreated" "enriched" "fat-free" "flavored" "leftover"
    "optional" "or above" "or below" "or lower" "portions" "to order" "discard" "drained" "low-fat"
    "nothing" "or less" "or more" "portion" "then to" "called" "cooked" "frozen" "in all" "nonfat"
    "within" "group" "items" "up to" "whole" "cold" "item" "make" "more" "once" "skim" "and" "for"
    "hot" "per" "raw" "as" "at" "in" "of" "to"))
(defconst recipelang-words-notes
  '("not credited" "credited as" "on the side" "counts as" "left over" "leftover" "optional"
    "to order" "discard" "called"))
(defconst recipelang-words-units
  '("portion spoons" "portion spoon" "fluid ounces" "fluid ounce" "milliliters" "tablespoons"
    "micrograms" "milligrams" "milliliter" "tablespoon" "kilograms" "microgram" "milligram"
    "teaspoons" "kilogram" "portions" "teaspoon" "batches" "bottles" "gallons" "minutes" "portion"
    "seconds" "bottle" "gallon" "inches" "ladles" "liters" "loaves" "minute" "ounces" "pieces"
    "pounds" "quarts" "scoops" "second" "sheets" "slices" "batch" "boxes" "cases" "dozen" "fl oz"
    "grams" "hours" "ladle" "liter" "ounce" "oz eq" "piece" "pints" "pound" "quart" "scoop" "sheet"
    "slice" "tbsps" "bags" "cans" "case" "cups" "days" "each" "gals" "gram" "hour" "inch" "jars"
    "loaf" "mins" "pint" "secs" "tbsp" "tsps" "tubs" "bag" "box" "can" "cup" "day" "doz" "gal" "grm"
    "hrs" "jar" "kgs" "lbs" "mcg" "min" "pts" "qts" "sec" "tsp" "tub" "ea" "hr" "kg" "lb" "mg" "ml"
    "oz" "pt" "qt" "ug" "µg" "μg" "c" "d" "g" "h" "l" "s"))
;; end words

(defgroup recipelang nil
  "Standardized recipes in plain text."
  :group 'languages)

(defcustom recipelang-server-command '("recipelang" "server")
  "The command that starts the language server."
  :type '(repeat string))

(defun recipelang--any (words)
  "A regular expression for one of WORDS, with any blanks between their parts."
  (concat "\\(" (mapconcat (lambda (word) (replace-regexp-in-string " " "[ \t]+" (regexp-quote word) t t)) words "\\|")
          "\\)"))

(defconst recipelang--number
  "\\$?\\(?:[0-9]+/[0-9]+\\|[0-9]+\\(?:,[0-9]\\{3\\}\\)*\\(?:\\.[0-9]+\\)?\\(?:\\(?:[ \t]+\\|-\\)[0-9]+/[0-9]+\\|[ \t]*[½¼¾⅓⅔⅛⅜⅝⅞⅕⅖⅗⅘⅙⅚]\\)?\\|[½¼¾⅓⅔⅛⅜⅝⅞⅕⅖⅗⅘⅙⅚]\\)")

(defconst recipelang--end "\\(?:[ \t,;]\\|$\\)")

(defconst recipelang-font-lock-keywords
  (let ((first "^[ \t]+"))
    `((,(concat "^" (recipelang--any recipelang-words-kinds) "\\(?:[ \t]+\\(.*?\\)\\)?[ \t]*\\(?:[ \t]//.*\\)?$")
       (1 font-lock-keyword-face) (2 font-lock-function-name-face nil t))
      ;; a step is prose: only what stands in brackets is colored
      ("^[ \t]+\\(?:\\(?:instead of\\|after\\) step [0-9]+ \\)?\\(-\\) \\(.*\\)$"
       (1 font-lock-keyword-face) (2 'default keep)
       ("\\[[^][\n]*\\]" (progn (beginning-of-line) nil) nil (0 font-lock-variable-name-face t)))
      (,(concat first "\\(?:or[ \t]+\\)?\\(ccp[ \t]+\\)?" (recipelang--any recipelang-words-typed) recipelang--end)
       (1 font-lock-warning-face nil t) (2 font-lock-builtin-face))
      (,(concat first (recipelang--any recipelang-words-blocks) recipelang--end) 1 font-lock-keyword-face)
      (,(concat first (recipelang--any recipelang-words-fields) recipelang--end) 1 font-lock-type-face)
      (,(concat "\\(?:^\\|[^[:alnum:]_/-]\\)\\(" recipelang--number "\\)[ \t]*"
                (recipelang--any recipelang-words-units) "\\_>")
       (1 font-lock-constant-face keep) (2 font-lock-builtin-face keep))
      (,(concat "\\(?:^\\|[ \t(]\\)\\(" recipelang--number "\\(?:[ \t]*%\\|[ \t]*°?[FC]\\_>\\)?\\)\\(?:[ \t,;|=]\\|$\\)")
       1 font-lock-constant-face keep)
      (,(concat ",[ \t]*" (recipelang--any recipelang-words-notes) recipelang--end) 1 font-lock-preprocessor-face keep)
      ;; behind an ingredient's amount stand a name and prose
      ("^[ \t]+\\(?:or[ \t]+\\)?[0-9#½¼¾⅓⅔⅛⅜⅝⅞⅕⅖⅗⅘⅙⅚].*$" 0 'default keep)
      ;; in a menu a name comes first, and behind it for whom, how many and how
      ("^[ \t]+\\(?:serve\\|sell\\)[ \t]"
       ("\\([^,;\n]+?\\)\\(?:[ \t]+for[ \t][^,;\n]*\\)?\\(?:,[^;\n]*\\)?\\(?:;\\|$\\)" nil nil (1 'default keep)))
      (,(concat "[ \t]" (recipelang--any recipelang-words-inside) recipelang--end) 1 font-lock-preprocessor-face keep)))
  "What is colored, and how.")

(defvar recipelang-mode-syntax-table
  (let ((table (make-syntax-table)))
    ;; a comment needs a blank before its slashes, which `recipelang-syntax-propertize' sees to
    (modify-syntax-entry ?\n ">" table)
    (modify-syntax-entry ?\" "\"" table)
    (modify-syntax-entry ?' "w" table)
    (modify-syntax-entry ?- "w" table)
    table))

(defun recipelang-syntax-propertize (start end)
  "Mark comments between START and END: two slashes behind a blank."
  (goto-char start)
  (while (re-search-forward "\\(?:^\\|[ \t]\\)\\(/\\)/" end t)
    (let ((slash (match-beginning 1)))
      (unless (nth 3 (save-excursion (syntax-ppss slash)))
        (put-text-property slash (1+ slash) 'syntax-table (string-to-syntax "<"))))))

;;;###autoload
(define-derived-mode recipelang-mode prog-mode "Recipe"
  "Major mode for standardized recipes in plain text."
  (setq-local font-lock-defaults '(recipelang-font-lock-keywords nil t))
  (setq-local syntax-propertize-function #'recipelang-syntax-propertize)
  (setq-local comment-start "// ")
  (setq-local comment-start-skip "//+[ \t]*")
  (setq-local indent-tabs-mode nil)
  (setq-local tab-width 4)
  (setq-local indent-line-function #'indent-relative)
  (setq-local imenu-generic-expression
              (mapcar (lambda (kind) (list (capitalize kind) (concat "^" kind "[ \t]+\\(.*\\)$") 1))
                      recipelang-words-kinds)))

;; A library is a project: the folder that holds its configuration.
(defun recipelang-project (folder)
  "The project that FOLDER is in, if it is a recipe library."
  (let ((root (locate-dominating-file folder "recipelang.toml")))
    (and root (cons 'transient root))))
(add-hook 'project-find-functions #'recipelang-project)

;;;###autoload
(add-to-list 'auto-mode-alist '("\\.recipe\\'" . recipelang-mode))

(defvar eglot-server-programs)
(with-eval-after-load 'eglot
  (add-to-list 'eglot-server-programs (cons 'recipelang-mode recipelang-server-command)))

(defvar lsp-language-id-configuration)
(declare-function lsp-register-client "lsp-mode")
(declare-function make-lsp-client "lsp-mode")
(declare-function lsp-stdio-connection "lsp-mode")
(with-eval-after-load 'lsp-mode
  (add-to-list 'lsp-language-id-configuration '(recipelang-mode . "recipelang"))
  (lsp-register-client
   (make-lsp-client :new-connection (lsp-stdio-connection (lambda () recipelang-server-command))
                    :major-modes '(recipelang-mode)
                    :server-id 'recipelang)))

(provide 'recipelang-mode)
;;; recipelang-mode.el ends here
