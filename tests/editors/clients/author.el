;;; author.el --- What an author does in Emacs, and what is seen -*- lexical-binding: t -*-

;; Shared by the sessions with eglot and with lsp-mode. Each result goes into the file named by $RESULTS.

(require 'cl-lib)
(require 'json)

(defvar author-results nil)
(defconst author-patience (/ (string-to-number (getenv "PATIENCE")) 1000.0))

(defun author-note (name value)
  "Write down that NAME is VALUE."
  (setf (alist-get name author-results) value)
  (let ((json-encoding-pretty-print t))
    (write-region (json-encode author-results) nil (getenv "RESULTS") nil 'quiet)))

(defun author-wait (name holds)
  "Wait until HOLDS gives something, and give it; where nothing comes, the session ends at NAME."
  (let ((end (+ (float-time) author-patience)) found)
    (while (and (not (setq found (funcall holds))) (< (float-time) end))
      (accept-process-output nil 0.01))
    (or found (error "Waited in vain: %s" name))))

(defun author-open (name)
  "Open the file NAME of the library."
  (find-file (expand-file-name name (getenv "LIBRARY"))))

(defun author-go (text)
  "Put the cursor on the first TEXT."
  (goto-char (point-min))
  (search-forward text)
  (goto-char (match-beginning 0)))

(defun author-text ()
  "The text at hand."
  (buffer-substring-no-properties (point-min) (point-max)))

(defun author-holds (text)
  "Whether TEXT stands in the file at hand."
  (string-match-p (regexp-quote text) (author-text)))

(defun author-completions ()
  "What is offered where an author has begun to type a food."
  (author-go "6 lb 8 oz")
  (forward-line 1)
  (let ((start (point)))
    (insert (getenv "BEGUN") "\n")
    (forward-char -1)
    (let* ((capf (run-hook-wrapped 'completion-at-point-functions #'completion--capf-wrapper 'all))
           (table (nth 2 (cdr capf)))
           (typed (buffer-substring-no-properties (cadr capf) (point)))
           (found (and table (all-completions typed table))))
      (author-note 'completions (vconcat (mapcar #'substring-no-properties found))))
    (delete-region start (progn (forward-line 1) (point)))))

(defmacro author-works (&rest body)
  "Do BODY; an error is written down."
  `(condition-case why
       (progn ,@body)
     (error (author-note 'failed (format "%S" why)))))

(provide 'author)
;;; author.el ends here
